import { canonicalItem } from "./canonicalItem.ts";
import type { FieldDescriptor } from "./descriptor.ts";
import { lookUpWord } from "./lookUpWord.ts";
import type { DateOrder, ProblemCode, VocabularyName, WordList } from "./mapping.ts";
import { normalisePhrase } from "./normalisePhrase.ts";
import { parseDate } from "./parseDate.ts";
import { parseNumber } from "./parseNumber.ts";
import { convertUnit, isConvertible, unitOf } from "./units.ts";

/** A canonical value, or null with the reason where the cell could not be read. */
export interface CellValue {
  readonly value: unknown;
  readonly problem?: { readonly code: ProblemCode; readonly facts: Readonly<Record<string, string | number | null>> };
}

/** How a cell is to be read. */
export interface CellReading {
  readonly field: FieldDescriptor;
  readonly unit: string | undefined;
  readonly words: VocabularyName | undefined;
  readonly decimal: "." | ",";
  readonly dateOrder: DateOrder;
  readonly wordList: WordList;
}

/** Whether nothing is written in a cell: empty, dashes, a question mark, "n/a". */
export const isBlank = (text: string): boolean => /^\s*(?:-+|–+|—+|\?+|n\/?\.?a\.?|#n\/a)?\s*$/i.test(text);

/**
 * Reads one cell as a canonical value by the field's type. What cannot be read is null with a problem; it is never
 * guessed. "Good tight" in a torque cell is null with "not-a-number".
 */
export function cellValue(text: string, reading: CellReading): CellValue {
  if (isBlank(text)) return { value: null };
  const { field } = reading;
  if (field.name === "caused_by" && text.includes(":")) return otherItemsMode(text, reading);
  const meant = reading.words === undefined ? undefined : lookUpWord(reading.wordList, reading.words, text);
  if (meant === null) return { value: null };
  if (meant !== undefined && field.type !== "array") return checkedMeaning(meant, reading);
  switch (field.type) {
    case "string":
      return textValue(text, reading);
    case "number":
    case "integer":
      return numberValue(text, reading);
    case "boolean":
      return yesOrNo(text, reading);
    case "date":
      return dateValue(text, reading.dateOrder);
    case "array":
      return listValue(text, reading);
  }
}

/** "J1: backed off": a consequence of a finding on another item. */
function otherItemsMode(text: string, reading: CellReading): CellValue {
  const [item = "", ...rest] = text.split(":");
  const { value, problem } = cellValue(rest.join(" "), reading);
  if (problem !== undefined || typeof value !== "string")
    return { value, ...(problem === undefined ? {} : { problem }) };
  const meant = lookUpWord(reading.wordList, "items", item);
  return { value: `${typeof meant === "string" ? meant : canonicalItem(item)}: ${value}` };
}

function checkedMeaning(meant: string | number | boolean, { field, words }: CellReading): CellValue {
  const fits =
    (field.type === "string" &&
      typeof meant === "string" &&
      (field.enum === undefined || field.enum.includes(meant))) ||
    ((field.type === "number" || field.type === "integer") && typeof meant === "number") ||
    (field.type === "boolean" && typeof meant === "boolean");
  if (!fits) return failed("word-not-known", { vocabulary: words ?? null, meaning: String(meant) });
  return { value: field.name === "mode_seen" && meant === "sound" ? "none" : meant };
}

function textValue(text: string, { field, words }: CellReading): CellValue {
  const plain = text.replace(/\s+/g, " ").trim();
  if (words === "items") return { value: canonicalItem(text) };
  if (field.enum !== undefined) {
    const normal = normalisePhrase(text);
    const value = field.enum.find((choice) => normalisePhrase(choice) === normal);
    return value === undefined ? failed("word-not-known", { vocabulary: words ?? null }) : { value };
  }
  return words === undefined ? { value: plain } : failed("word-not-known", { vocabulary: words });
}

function numberValue(text: string, { field, unit, words, decimal }: CellReading): CellValue {
  const read = parseNumber(text, decimal);
  if (read === null)
    return words === undefined
      ? failed("not-a-number", { unit: field.unit ?? null })
      : failed("word-not-known", { vocabulary: words });
  if (words === "severity")
    return Number.isInteger(read.value) && read.value >= 0
      ? { value: read.value }
      : failed("word-not-known", { vocabulary: words });
  const own = read.rest === "" ? null : unitOf(read.rest);
  if (read.rest !== "" && own === null) {
    const code = field.unit === undefined || / /.test(read.rest) ? "not-a-number" : "unknown-unit";
    return failed(code, { unit: read.rest.slice(0, 40) });
  }
  const from = own ?? unit ?? field.unit;
  if (from !== undefined && field.unit !== undefined && !isConvertible(from, field.unit)) {
    return failed("unknown-unit", { unit: from, expected: field.unit });
  }
  if (own !== null && field.unit === undefined) return failed("not-a-number", { unit: read.rest.slice(0, 40) });
  const value = from === undefined || field.unit === undefined ? read.value : convertUnit(read.value, from, field.unit);
  if (field.type === "integer" && !Number.isInteger(value))
    return failed("not-a-number", { expected: "a whole number" });
  if (field.minimum !== undefined && value < field.minimum) return failed("below-minimum", { minimum: field.minimum });
  return { value };
}

function yesOrNo(text: string, { words }: CellReading): CellValue {
  const normal = normalisePhrase(text);
  if (["yes", "y", "true", "1", "x"].includes(normal)) return { value: true };
  if (["no", "n", "false", "0"].includes(normal)) return { value: false };
  return failed("not-yes-or-no", { vocabulary: words ?? null });
}

function dateValue(text: string, order: DateOrder): CellValue {
  const date = parseDate(text, order);
  if (date === null) return failed("not-a-date", {});
  if (date === "impossible") return failed("impossible-date", { order });
  return { value: date };
}

function listValue(text: string, { words, wordList }: CellReading): CellValue {
  const parts = text
    .split(text.includes(";") ? ";" : /[,|+\n]/)
    .map((part) => part.trim())
    .filter((part) => !isBlank(part));
  const value = parts.map((part) => {
    const meant = words === undefined ? undefined : lookUpWord(wordList, words, part);
    if (typeof meant === "string") return meant;
    return words === "items" ? canonicalItem(part) : part;
  });
  return { value: [...new Set(value)] };
}

const failed = (code: ProblemCode, facts: Readonly<Record<string, string | number | null>>): CellValue => ({
  value: null,
  problem: { code, facts },
});
