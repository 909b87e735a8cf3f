/** The tables that forms write, as the descriptor says them. Pure. */
import { type FieldDescriptor, type TableName, tableDescriptors, tableNames } from "../../analysis/index.ts";

export type FormTable = TableName;

export const fieldsOf = (table: FormTable): readonly FieldDescriptor[] => tableDescriptors[table].fields;
export const keyFieldsOf = (table: FormTable): readonly string[] => tableDescriptors[table].primaryKey;
export const titleOf = (table: FormTable): string => tableDescriptors[table].title;
export const descriptionOf = (table: FormTable): string => tableDescriptors[table].description;

/** Tables that tell what happened: written at the tool, or by sheets. All others are kept by hand. */
const happened: ReadonlySet<FormTable> = new Set([
  "tools",
  "redresses",
  "joints",
  "fitted_items",
  "runs",
  "teardowns",
  "findings",
]);

/** Tables that a person keeps by hand, in the order of the descriptor. */
export const keptByHand: readonly FormTable[] = tableNames.filter((table) => !happened.has(table));
