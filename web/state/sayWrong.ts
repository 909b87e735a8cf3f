import { type FormTable, fieldsOf } from "./formTables.ts";

/** What keeps a row from being stored: fields that are needed first, then those that cannot be read. null: nothing. */
export function sayWrong(table: FormTable, wrong: Readonly<Record<string, string>>): string | null {
  const [first] = fieldsOf(table).filter(({ name }) => Object.hasOwn(wrong, name));
  return first === undefined ? null : `${first.title}: ${wrong[first.name] ?? ""}`;
}
