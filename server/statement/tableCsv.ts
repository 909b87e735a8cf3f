import type { StatementTable } from "../../analysis/index.ts";
import type { CsvTable } from "../routes/sendCsv.ts";

/** A table of a statement as plain rows: numbers whole, not as they are said; the result it comes from in a last column. */
export function tableCsv({ columns, rows, result }: StatementTable): CsvTable {
  return {
    headers: [...columns.map(({ title }) => title), "result"],
    rows: rows.map((row) => [
      ...row.map((cell) => (typeof cell === "string" ? cell : (cell.value ?? cell.text))),
      result,
    ]),
  };
}
