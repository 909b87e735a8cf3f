/** What was typed into a control, as the value that its field holds. Pure. */
import { convertUnit, type FieldDescriptor, isConvertible, parseNumber, unitOf } from "../../analysis/index.ts";

/** `turned`: the value was typed in another unit than the field's. */
export type TypedValue = { readonly value: unknown; readonly turned?: true } | { readonly wrong: string };

/**
 * The value of a field; where the text is none, what is wrong with it in words. Empty is null: not written down. A number
 * may be typed with its own unit ("2500 ft-lbf"), as in a sheet; it is then turned into the field's.
 */
export function typedValue(field: FieldDescriptor, typed: unknown): TypedValue {
  const { type, required } = field;
  if (typeof typed === "boolean" || Array.isArray(typed)) return { value: typed };
  const text = typed === null || typed === undefined ? "" : String(typed).trim();
  if (text === "") return required ? { wrong: "This is needed." } : { value: null };
  if (type === "number" || type === "integer") return typedNumber(field, text);
  if (type !== "array") return { value: text };
  const parts = text.split(";").map((part) => part.trim());
  return { value: parts.filter((part) => part !== "") };
}

function typedNumber({ type, unit, minimum }: FieldDescriptor, text: string): TypedValue {
  const read = parseNumber(text, ".");
  if (read === null) return { wrong: `“${text}” is not a number.` };
  const own = read.rest === "" ? null : unitOf(read.rest);
  if (read.rest !== "" && (own === null || unit === undefined || !isConvertible(own, unit)))
    return { wrong: `“${read.rest}” is no unit of this${unit === undefined ? "" : `; it is kept in ${unit}`}.` };
  const turned = own !== null && unit !== undefined && own !== unitOf(unit);
  const value = turned ? convertUnit(read.value, own, unit) : read.value;
  if (type === "integer" && !Number.isInteger(value)) return { wrong: "A whole number is needed." };
  if (minimum !== undefined && value < minimum) return { wrong: `It cannot be below ${minimum}.` };
  return turned ? { value, turned } : { value };
}

/** A row as typed, as values; what is wrong with it, by field. Fields that were not touched are left out. */
export function typedRow(
  fields: readonly FieldDescriptor[],
  typed: Readonly<Record<string, unknown>>,
): { readonly values: Readonly<Record<string, unknown>>; readonly wrong: Readonly<Record<string, string>> } {
  const values: Record<string, unknown> = {};
  const wrong: Record<string, string> = {};
  for (const field of fields) {
    const read = typedValue(field, typed[field.name]);
    if ("wrong" in read) wrong[field.name] = read.wrong;
    else if (Object.hasOwn(typed, field.name)) values[field.name] = read.value;
  }
  return { values, wrong };
}
