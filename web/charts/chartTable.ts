/** The numbers that a picture or a table shows, as rows to copy and export. */
export type Cell = string | number | null;

export interface ChartTable {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
}

/**
 * Rows as CSV (RFC 4180: comma, CRLF, quotes doubled). Text that a spreadsheet would run as a formula is led by an
 * apostrophe; numbers are written as they are. Null is an empty cell.
 */
export const toCsv = ({ columns, rows }: ChartTable): string =>
  [columns, ...rows].map((row) => `${row.map(cellText).join(",")}\r\n`).join("");

function cellText(value: Cell): string {
  if (value === null) return "";
  if (typeof value === "number") return String(value);
  const inert = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(inert) ? `"${inert.replaceAll('"', '""')}"` : inert;
}
