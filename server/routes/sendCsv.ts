import type { Response } from "express";
import { type CsvValue, toCsv } from "./csv.ts";

export interface CsvTable {
  readonly headers: readonly string[];
  readonly rows: readonly (readonly CsvValue[])[];
}

/** Sends a table as a CSV file. The byte order mark makes spreadsheets read it as UTF-8. */
export function sendCsv(response: Response, name: string, { headers, rows }: CsvTable): void {
  response
    .attachment(`${name}.csv`)
    .type("text/csv; charset=utf-8")
    .send(`\uFEFF${toCsv(headers, rows)}`);
}
