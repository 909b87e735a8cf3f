import type { FieldDescriptor } from "../../../analysis/index.ts";

/** A file of an export as its descriptor lists it. Shape of the Frictionless Data Package (specs.frictionlessdata.io, v1). */
export interface ExportedTable {
  readonly name: string;
  readonly title: string;
  readonly description: string;
  readonly fields: readonly FieldDescriptor[];
  readonly primaryKey?: readonly string[];
  readonly foreignKeys?: readonly {
    readonly fields: readonly string[];
    readonly reference: { readonly table: string; readonly fields: readonly string[] };
  }[];
  readonly rows: readonly (readonly unknown[])[];
}

const text = (name: string, title: string): FieldDescriptor => ({ name, type: "string", title });
const whole = (name: string, title: string): FieldDescriptor => ({ name, type: "integer", title });

/** Columns beside the values of a canonical row: where it came from. Not read when an export comes back in. */
export const originFields: readonly FieldDescriptor[] = [
  text("source_file", "File it came from"),
  text("source_sheet", "Tab it came from"),
  whole("source_line", "Line it came from"),
  whole("source_batch", "Batch it came with"),
  text("as_written", "Cells as written, as JSON"),
];

export const answerFields: readonly FieldDescriptor[] = [
  text("table", "Table"),
  text("key", "Key of the row, as JSON"),
  text("column", "Column; empty for the row as a whole"),
  text("was", "Value it was decided on, as JSON"),
  text("becomes", "Value to use instead, as JSON"),
  text("verdict", "Verdict"),
  text("rule", "Rule that doubted it"),
  text("who", "Who decided"),
  text("when", "When"),
  text("why", "Why"),
];

export const batchFields: readonly FieldDescriptor[] = [
  whole("batch", "Batch"),
  text("stored_at", "Stored at"),
  text("who", "Who"),
  text("why", "What was said for it"),
  whole("undoes", "Batch that it takes back"),
  whole("lines", "Lines"),
  whole("new", "New"),
  whole("unchanged", "Unchanged"),
  whole("changed", "Changed"),
  whole("set_aside", "Set aside"),
  text("files", "Files with their SHA-256, as JSON"),
];

export const setAsideFields: readonly FieldDescriptor[] = [
  whole("batch", "Batch"),
  text("file", "File"),
  text("sheet", "Tab"),
  whole("line", "Line"),
  text("why", "What is wrong"),
  text("cells", "Cells as written, as JSON"),
];

/** A file of the export in its descriptor. */
export function resourceOf(
  { name, title, description, fields, primaryKey, foreignKeys }: ExportedTable,
  more: Readonly<Record<string, unknown>>,
): object {
  return {
    name: name.replaceAll("_", "-"),
    path: `${name}.csv`,
    profile: "tabular-data-resource",
    title,
    description,
    format: "csv",
    mediatype: "text/csv",
    encoding: "utf-8",
    dialect: { delimiter: ",", lineTerminator: "\r\n", quoteChar: '"', doubleQuote: true, header: true },
    ...more,
    schema: {
      fields: fields.map(
        ({ name: field, type, title: said, description: about, unit, required, enum: words, minimum }) => {
          const constraints = { required, enum: words, minimum };
          const limited = Object.values(constraints).some((limit) => limit !== undefined);
          return { name: field, type, title: said, description: about, unit, ...(limited ? { constraints } : {}) };
        },
      ),
      primaryKey,
      foreignKeys: foreignKeys?.map(({ fields: own, reference }) => ({
        fields: own,
        reference: { resource: reference.table.replaceAll("_", "-"), fields: reference.fields },
      })),
      missingValues: [""],
    },
  };
}
