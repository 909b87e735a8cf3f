/** What was typed into a control, as the value that its field holds. Pure. */
import type { FieldDescriptor } from "../../analysis/index.ts";

export type TypedValue = { readonly value: unknown } | { readonly wrong: string };

/** The value of a field; where the text is none, what is wrong with it in words. Empty is null: not written down. */
export function typedValue({ type, minimum, required }: FieldDescriptor, typed: unknown): TypedValue {
  if (typeof typed === "boolean" || Array.isArray(typed)) return { value: typed };
  const text = typed === null || typed === undefined ? "" : String(typed).trim();
  if (text === "") return required ? { wrong: "This is needed." } : { value: null };
  if (type === "array")
    return {
      value: text
        .split(";")
        .map((part) => part.trim())
        .filter((part) => part !== ""),
    };
  if (type !== "number" && type !== "integer") return { value: text };
  const number = Number(text.replace(/^(-?\d+),(\d+)$/, "$1.$2"));
  if (!Number.isFinite(number)) return { wrong: `“${text}” is not a number.` };
  if (type === "integer" && !Number.isInteger(number)) return { wrong: "A whole number is needed." };
  if (minimum !== undefined && number < minimum) return { wrong: `It cannot be below ${minimum}.` };
  return { value: number };
}
