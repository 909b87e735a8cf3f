/** The numbers that a picture draws, as rows to copy and export. */
export type Cell = string | number | null;

export interface ChartTable {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
}

/** Comma-separated values after RFC 4180: quotes doubled, lines ended by CR LF; an absent number is an empty cell. */
export function toCsv({ columns, rows }: ChartTable): string {
  const cell = (value: Cell): string => {
    const text = value === null ? "" : String(value);
    return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
  };
  return [columns, ...rows].map((row) => `${row.map(cell).join(",")}\r\n`).join("");
}
