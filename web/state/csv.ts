export type CsvValue = string | number | null;

/**
 * Rows as CSV (RFC 4180: comma, CRLF, quotes doubled). Text that a spreadsheet would run as a formula is led by an
 * apostrophe; numbers are written as they are. Null is an empty cell.
 */
export function toCsv(header: readonly string[], rows: readonly (readonly CsvValue[])[]): string {
  return [header, ...rows].map((row) => `${row.map(cell).join(",")}\r\n`).join("");
}

function cell(value: CsvValue): string {
  if (value === null) return "";
  if (typeof value === "number") return String(value);
  const inert = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(inert) ? `"${inert.replaceAll('"', '""')}"` : inert;
}
