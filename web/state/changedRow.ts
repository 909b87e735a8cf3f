import type { FormEntry } from "../../analysis/index.ts";
import { type FormTable, fieldsOf } from "./formTables.ts";

type Values = Readonly<Record<string, unknown>>;

/** Whether two values of a field are the same to a person: what is left out is not written down. */
export const sameCell = (one: unknown, other: unknown): boolean =>
  JSON.stringify(one ?? null) === JSON.stringify(other ?? null);

/**
 * A stored row as it is sent to be changed: what names it, what every row needs, and the cells that differ. The others
 * are left out, so that what somebody else changed meanwhile stays.
 */
export function changedRow(table: FormTable, stored: Values, values: Values): FormEntry {
  const sent = fieldsOf(table).filter(({ name, required }) => required || !sameCell(stored[name], values[name]));
  return { table, values: Object.fromEntries(sent.map(({ name }) => [name, values[name] ?? null])) };
}
