import { type Answer, type FieldDescriptor, tableDescriptors } from "../../../analysis/index.ts";
import { sayValue } from "../parts/StoredRecord.tsx";

/** "3,235 N·m becomes 2,386 N·m", "right as written", "row left out". */
export function sayVerdict({ table, column, verdict, was, becomes }: Answer): string {
  if (verdict === "accept") return "right as written";
  if (verdict === "exclude") return "row left out";
  if (verdict === "reopen") return "taken back, in doubt again";
  const field = (tableDescriptors[table].fields as readonly FieldDescriptor[]).find(({ name }) => name === column);
  const say = (value: unknown) => (field === undefined ? String(value) : sayValue(field, value));
  return `${say(was)} becomes ${say(becomes)}`;
}
