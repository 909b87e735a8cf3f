import type { FieldDescriptor } from "../../../analysis/index.ts";

/**
 * Values as cells of an exported table and back, without loss. An empty cell is "not written down", a quoted empty one
 * an empty text; lists are JSON, as a Table Schema has them. A text that a spreadsheet would run as a formula is led by
 * an apostrophe, and so is one that begins with an apostrophe: the first apostrophe is never part of the text.
 */
export function exportCell(value: unknown): string {
  if (value === null || value === undefined) return "";
  if (typeof value === "number" || typeof value === "boolean") return String(value);
  const text = typeof value === "string" ? guarded(value) : guarded(JSON.stringify(value));
  return text === "" || /[",\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

export function exportLine(values: readonly unknown[]): string {
  return `${values.map(exportCell).join(",")}\r\n`;
}

const guarded = (text: string): string => (/^[=+\-@\t\r\n|']/.test(text) ? `'${text}` : text);

/** The text of a cell as it was before it was guarded. */
export const unguarded = (cell: string): string => (cell.startsWith("'") ? cell.slice(1) : cell);

/** A value that could not be read; the reason is a problem code. */
export interface UnreadCell {
  readonly problem: "not-a-number" | "not-yes-or-no" | "not-a-date" | "pattern-did-not-match";
}

/** The value of a cell of an exported table by the type of its field; null for an empty cell. */
export function importCell(cell: string | null, { type }: FieldDescriptor): { readonly value: unknown } | UnreadCell {
  if (cell === null) return { value: null };
  switch (type) {
    case "string":
      return { value: unguarded(cell) };
    case "number":
    case "integer": {
      const value = cell.trim() === "" ? Number.NaN : Number(cell);
      return Number.isFinite(value) && (type === "number" || Number.isSafeInteger(value))
        ? { value }
        : { problem: "not-a-number" };
    }
    case "boolean": {
      const word = cell.toLowerCase();
      return word === "true" || word === "false" ? { value: word === "true" } : { problem: "not-yes-or-no" };
    }
    case "date":
      return isDay(cell) ? { value: cell } : { problem: "not-a-date" };
    case "array":
      return listIn(unguarded(cell));
  }
}

function isDay(text: string): boolean {
  const day = /^\d{4}-\d\d-\d\d$/.test(text) ? new Date(`${text}T00:00:00Z`) : null;
  return day !== null && !Number.isNaN(day.getTime()) && day.toISOString().startsWith(text);
}

function listIn(text: string): { readonly value: readonly string[] } | UnreadCell {
  try {
    const parsed: unknown = JSON.parse(text);
    if (Array.isArray(parsed) && parsed.every((part): part is string => typeof part === "string"))
      return { value: parsed };
  } catch {
    // Said below.
  }
  return { problem: "pattern-did-not-match" };
}
