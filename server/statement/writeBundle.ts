import { strToU8, zipSync } from "fflate";
import type { StatementDocument, StatementResult } from "../../analysis/index.ts";
import { toCsv } from "../routes/csv.ts";
import { drawPicture } from "./drawPicture.tsx";
import { drawPng } from "./drawPng.ts";
import { picturesOf, tablesOf } from "./picturesOf.ts";
import { tableCsv } from "./tableCsv.ts";

/** Width in px at which pictures are drawn as files of their own. */
export const fileWidth = 1_000;

/** Every table as CSV and every picture as SVG and PNG, packed into one ZIP file. */
export function writeBundle(document: StatementDocument, statement: StatementResult): Uint8Array {
  const files: Record<string, Uint8Array> = {};
  for (const table of tablesOf(document)) {
    const { headers, rows } = tableCsv(table);
    files[`tables/${table.id}.csv`] = strToU8(`\uFEFF${toCsv(headers, rows)}`);
  }
  for (const picture of picturesOf(document)) {
    const svg = drawPicture(picture, statement, { width: fileWidth });
    files[`pictures/${picture.id}.svg`] = strToU8(svg);
    files[`pictures/${picture.id}.png`] = drawPng(svg);
  }
  // One time for all: the same statement packs to the same bytes.
  return zipSync(files, { mtime: new Date("2000-01-01T00:00:00Z") });
}
