import { type FieldDescriptor, tableDescriptors } from "../../analysis/index.ts";
import type { KeptRow } from "./compareRows.ts";
import { StorageError } from "./storageError.ts";

/**
 * Refuses what the columns could not hold as it is, before anything is written. Mapping lets none of this through; a
 * row made otherwise is stopped here, with its place, instead of failing inside the database or coming back altered.
 *
 * Errors  "row-not-storable" with file, line, table and field
 */
export function checkStorable(row: KeptRow): void {
  const fields: readonly FieldDescriptor[] = tableDescriptors[row.table].fields;
  const refuse = (field: string, why: string): never => {
    throw new StorageError("row-not-storable", {
      file: row.origin.file,
      line: row.origin.line,
      table: row.table,
      field,
      why,
    });
  };
  for (const field of fields) {
    const value = row.values[field.name] ?? null;
    if (value === null) {
      if (field.required) refuse(field.name, "nothing is written, and the field must be");
      continue;
    }
    const why = whyNotStorable(field, value);
    if (why !== null) refuse(field.name, why);
  }
  for (const [header, cell] of Object.entries(row.asWritten)) {
    if (!isText(cell) || !isText(header)) refuse(header.slice(0, 40), "the cell holds a character that is no text");
  }
}

/** Why a column could not hold a value; null where it can. */
export function whyNotStorable({ type }: FieldDescriptor, value: unknown): string | null {
  switch (type) {
    case "string":
      return typeof value === "string" && isText(value) ? null : "it is no text";
    case "number":
      return typeof value === "number" && Number.isFinite(value) ? null : "it is no finite number";
    case "integer":
      return Number.isSafeInteger(value) ? null : "it is no whole number below 9,007,199,254,740,992";
    case "boolean":
      return typeof value === "boolean" ? null : "it is neither yes nor no";
    case "date":
      return typeof value === "string" && isDate(value) ? null : "it is no date";
    case "array":
      return Array.isArray(value) && value.every((each) => typeof each === "string" && isText(each))
        ? null
        : "it is no list of texts";
  }
}

/** PostgreSQL keeps no zero character and no half of a surrogate pair. */
export function isText(text: string): boolean {
  return !text.includes("\0") && !/\p{Surrogate}/u.test(text);
}

function isDate(text: string): boolean {
  const day = /^\d{4}-\d\d-\d\d$/.test(text) && !text.startsWith("0000") ? new Date(`${text}T00:00:00Z`) : null;
  return day !== null && !Number.isNaN(day.getTime()) && day.toISOString().startsWith(text);
}
