import { type FieldDescriptor, type TableName, tableDescriptors } from "../descriptor.ts";
import { dayNumber } from "./dayNumber.ts";

/** The descriptor of a column; undefined where the table has no such column. */
export function fieldOf(table: TableName, column: string): FieldDescriptor | undefined {
  const fields: readonly FieldDescriptor[] = tableDescriptors[table]?.fields ?? [];
  return fields.find(({ name }) => name === column);
}

/** Whether a value can stand in a column: type, required, words allowed, least value. Null is "not written down". */
export function fitsField(field: FieldDescriptor, value: unknown): boolean {
  if (value === null || value === undefined) return field.required !== true;
  switch (field.type) {
    case "number":
    case "integer":
      return (
        typeof value === "number" &&
        Number.isFinite(value) &&
        (field.type === "number" || Number.isInteger(value)) &&
        value >= (field.minimum ?? Number.NEGATIVE_INFINITY)
      );
    case "boolean":
      return typeof value === "boolean";
    case "array":
      return Array.isArray(value) && value.every((part) => typeof part === "string");
    case "date":
      return typeof value === "string" && !Number.isNaN(dayNumber(value));
    case "string":
      return typeof value === "string" && (field.enum === undefined || field.enum.includes(value));
  }
}
