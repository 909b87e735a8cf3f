/** The tables that forms write, as the descriptor says them. Pure. */
import { type FieldDescriptor, type TableName, tableDescriptors } from "../../analysis/index.ts";

export type FormTable = TableName;

export const fieldsOf = (table: FormTable): readonly FieldDescriptor[] => tableDescriptors[table].fields;
export const keyFieldsOf = (table: FormTable): readonly string[] => tableDescriptors[table].primaryKey;
export const titleOf = (table: FormTable): string => tableDescriptors[table].title;
export const descriptionOf = (table: FormTable): string => tableDescriptors[table].description;

/** Tables that a person keeps by hand, in the order in which a shop sets itself up. */
export const keptByHand: readonly FormTable[] = ["tool_items", "modes", "compounds"];
