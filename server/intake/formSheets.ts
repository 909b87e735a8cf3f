import {
  type FieldDescriptor,
  type FormEntry,
  linkProblems,
  type Problem,
  type Records,
  type TableName,
  tableDescriptors,
} from "../../analysis/index.ts";
import { exportLine } from "../storage/export/exportCells.ts";
import { exportMapping, readExportedTable } from "../storage/export/readExportedTable.ts";
import type { BatchInput } from "../storage/store.ts";
import { storedValues } from "./readDrop.ts";

export interface FormSheets extends Pick<BatchInput, "files" | "sheets"> {
  readonly problems: readonly Problem[];
}

/**
 * Rows written in a form, as the one-table sheets they are stored as: a form goes the same way as a file, so that the
 * journal holds what was written and a rebuild reads it again. Rows of one table and the same fields share a sheet.
 *
 * @param name  What the sheets are called: "form AB 2026-11-25 14.03".
 * @returns     Problems at the line and field of the sheet: a required field not written, a value of another type, out of
 *              its list or under its least, a field that the table does not have, a link that leads nowhere (a notice).
 */
export function formSheets(entries: readonly FormEntry[], name: string, records: Records): FormSheets {
  const groups = new Map<string, FormEntry[]>();
  for (const entry of entries) {
    const kind = JSON.stringify([entry.table, Object.keys(entry.values).sort()]);
    groups.set(kind, [...(groups.get(kind) ?? []), entry]);
  }
  const files: { file: string; bytes: Uint8Array }[] = [];
  const sheets: BatchInput["sheets"][number][] = [];
  const problems: Problem[] = [];
  for (const group of groups.values()) {
    const [first] = group;
    if (!first) continue;
    const { table } = first;
    const file = `${name}, ${table}${files.length === 0 ? "" : ` ${files.length + 1}`}.csv`;
    const headers = tableDescriptors[table].fields.map((field) => field.name).filter((field) => field in first.values);
    const text = [headers, ...group.map(({ values }) => headers.map((field) => values[field] ?? null))]
      .map(exportLine)
      .join("");
    const bytes = new TextEncoder().encode(text);
    const mapped = readExportedTable(bytes, file, table);
    files.push({ file, bytes });
    sheets.push({ mapped, mapping: exportMapping(table, headers), exported: true });
    problems.push(
      ...mapped.problems,
      ...group.flatMap(({ values }, index) => outOfPlace(table, values, file, index + 2)),
    );
  }
  const rows = sheets.flatMap(({ mapped }) => mapped.lines.flatMap((line) => line.rows));
  return { files, sheets, problems: [...problems, ...linkProblems(rows, [], storedValues(records))] };
}

/** What a value may not be, by the descriptor. */
function outOfPlace(table: TableName, values: FormEntry["values"], file: string, line: number): Problem[] {
  const fields: readonly FieldDescriptor[] = tableDescriptors[table].fields;
  const problemAt = (code: Problem["code"], column: string, facts: Problem["facts"]): Problem => ({
    code,
    severity: "error",
    origin: { file, sheet: null, line },
    column,
    value: values[column] === null || values[column] === undefined ? null : String(values[column]),
    facts: { table, field: column, ...facts },
  });
  const unknown = Object.keys(values).filter((name) => !fields.some((field) => field.name === name));
  return [
    ...unknown.map((name) => problemAt("no-such-column", name, {})),
    ...fields.flatMap(({ name, required, enum: allowed, minimum }) => {
      const value = values[name];
      const missing = value === undefined || value === null || value === "";
      if (missing) return required && !(name in values) ? [problemAt("missing-required", name, {})] : [];
      if (allowed && !allowed.includes(String(value)))
        return [problemAt("word-not-known", name, { vocabulary: allowed.join(", ") })];
      if (minimum !== undefined && typeof value === "number" && value < minimum)
        return [problemAt("below-minimum", name, { minimum })];
      return [];
    }),
  ];
}
