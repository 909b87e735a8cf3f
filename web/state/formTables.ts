/** The tables that forms write, as the descriptor says them. Pure. */
import { type FieldDescriptor, type TableName, tableDescriptors } from "../../analysis/index.ts";

export type FormTable = TableName;

export const fieldsOf = (table: FormTable): readonly FieldDescriptor[] => tableDescriptors[table].fields;
export const keyFieldsOf = (table: FormTable): readonly string[] => tableDescriptors[table].primaryKey;
export const titleOf = (table: FormTable): string => tableDescriptors[table].title;
