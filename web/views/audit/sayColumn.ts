import { type FieldDescriptor, tableDescriptors } from "../../../analysis/index.ts";
import type { DoubtKind } from "../../state/place.ts";

/** "Runs, hours"; a row as a whole is the table alone. */
export function sayColumn({ table, column }: Pick<DoubtKind, "table" | "column">): string {
  const { title, fields } = tableDescriptors[table];
  const field = (fields as readonly FieldDescriptor[]).find(({ name }) => name === column);
  return field === undefined ? title : `${title}, ${field.title.toLowerCase()}`;
}
