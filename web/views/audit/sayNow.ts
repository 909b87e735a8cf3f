import { type Answer, type FieldDescriptor, type RowsReply, tableDescriptors } from "../../../analysis/index.ts";
import { sayValue } from "../parts/StoredRecord.tsx";

/** What the sheet says now in the cell that an answer was given on. */
export function sayNow({ table, key, column }: Answer, { rows }: RowsReply): string {
  const row = rows.find((each) => each.table === table && each.key === key);
  if (row === undefined) return "the row is gone";
  const field = (tableDescriptors[table].fields as readonly FieldDescriptor[]).find(({ name }) => name === column);
  return field === undefined ? "the row reads otherwise" : sayValue(field, row.values[field.name]);
}
