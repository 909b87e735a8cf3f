import { type FieldDescriptor, type Row, type TableName, tableDescriptors } from "../../analysis/index.ts";
import { z } from "./zod.ts";

type JsonType = "string" | "number" | "integer" | "boolean" | "array" | "null";

/** JSON Schema of one canonical field, from its descriptor. */
function fieldSchema(field: FieldDescriptor) {
  const unit = field.unit === undefined ? "" : ` (${field.unit})`;
  const description = `${field.title}${unit}${field.description === undefined ? "" : `. ${field.description}`}`;
  const type: JsonType = field.type === "date" ? "string" : field.type;
  const types: JsonType[] = field.required ? [type] : [type, "null"];
  return {
    description,
    type: types,
    ...(field.type === "date" ? { format: "date" } : {}),
    ...(field.type === "array" ? { items: { type: "string" as const } } : {}),
    ...(field.enum === undefined ? {} : { enum: field.required ? [...field.enum] : [...field.enum, null] }),
    ...(field.minimum === undefined ? {} : { minimum: field.minimum }),
  };
}

function fieldCheck(field: FieldDescriptor): z.ZodType {
  const check =
    field.enum !== undefined
      ? z.enum([...field.enum])
      : field.type === "number"
        ? z.number()
        : field.type === "integer"
          ? z.int()
          : field.type === "boolean"
            ? z.boolean()
            : field.type === "array"
              ? z.array(z.string())
              : z.string();
  return field.required ? check : check.nullish();
}

/** The contract of a canonical row, made from the descriptor of its table, so there is one description of each table. */
export function rowContract<T extends TableName>(table: T) {
  const fields: readonly FieldDescriptor[] = tableDescriptors[table].fields;
  const check = z.object(Object.fromEntries(fields.map((field) => [field.name, fieldCheck(field)])));
  return z
    .custom<Row<T>>((value) => check.safeParse(value).success)
    .openapi({
      type: "object",
      description: tableDescriptors[table].description,
      properties: Object.fromEntries(fields.map((field) => [field.name, fieldSchema(field)])),
      required: fields.filter((field) => field.required).map((field) => field.name),
    });
}
