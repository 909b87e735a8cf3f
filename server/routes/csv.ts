export type CsvValue = string | number | boolean | null | undefined;

/**
 * A table as CSV (RFC 4180): CRLF, quotes where needed, null as an empty cell. Texts that a spreadsheet would run as a
 * formula are led by an apostrophe (OWASP, "CSV Injection"); numbers, also those written as text, are left alone.
 */
export function toCsv(headers: readonly string[], rows: readonly (readonly CsvValue[])[]): string {
  return [headers, ...rows].map((row) => `${row.map(cell).join(",")}\r\n`).join("");
}

/** A text that no spreadsheet runs as a formula. */
export function withoutFormula(value: string): string {
  const runs = /^[=+\-@\t\r\n|]/.test(value) && !/^[+-]?\d[\d.,]*$/.test(value);
  return runs ? `'${value}` : value;
}

function cell(value: CsvValue): string {
  if (value === null || value === undefined) return "";
  if (typeof value !== "string") return String(value);
  const safe = withoutFormula(value);
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
