/** Delimited text, quoted only where it must be, with the line each row starts on. */
import type { SheetFormat } from "../../../analysis/records/mapping.ts";

/**
 * @param before  lines that stand over the header: titles and comments.
 * @returns       text with one line a row and a line feed at the end, and the number of the first data line.
 */
export function delimitedText(
  before: readonly string[],
  headers: readonly string[],
  rows: readonly (readonly string[])[],
  delimiter: SheetFormat["delimiter"],
): { readonly text: string; readonly firstLine: number } {
  const cell = (text: string) =>
    text.includes(delimiter) || /["\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
  const lines = [...before, ...[headers, ...rows].map((cells) => cells.map(cell).join(delimiter))];
  return { text: `${lines.join("\n")}\n`, firstLine: before.length + 2 };
}

/** `YYYY-MM-DD` as the shop writes it: day, month, year. */
export const dayFirst = (date: string | null | undefined): string =>
  date ? `${date.slice(8, 10)}/${date.slice(5, 7)}/${date.slice(0, 4)}` : "";

export const plain = (value: string | number | null | undefined): string => (value == null ? "" : String(value));
export const yesNo = (value: boolean | null | undefined): string => (value == null ? "" : value ? "Y" : "N");
/** A value back in the shop's whole units. */
export const whole = (value: number | null | undefined, unit: number): string =>
  value == null ? "" : String(Math.round(value / unit));
