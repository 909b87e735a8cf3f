import { CsvError, parse } from "csv-parse/sync";
import {
  AnalysisError,
  type FieldDescriptor,
  keyOf,
  type Row,
  type TableName,
  tableDescriptors,
} from "../../../analysis/index.ts";
import type { MappedRow, MappedSheet, Mapping, Problem } from "../types.ts";
import { importCell } from "./exportCells.ts";

type Cells = readonly (string | null)[];

/** The cells of an exported file: headers, then rows with their lines. An empty cell that is not quoted is null. */
export function exportedRows(
  bytes: Uint8Array,
  file: string,
): { readonly headers: readonly string[]; readonly rows: readonly { readonly line: number; readonly cells: Cells }[] } {
  try {
    const records: readonly unknown[] = parse(Buffer.from(bytes), {
      bom: true,
      info: true,
      relax_column_count: true,
      record_delimiter: ["\r\n", "\n"],
      cast: (cell, { quoting }) => (cell === "" && !quoting ? null : cell),
    });
    const [head, ...rest] = records as readonly { readonly record: Cells; readonly info: { readonly lines: number } }[];
    let line = head?.info.lines ?? 1;
    return {
      headers: (head?.record ?? []).map((header) => header ?? ""),
      rows: rest.map(({ record, info }) => {
        const started = line + 1;
        line = info.lines;
        return { line: started, cells: record };
      }),
    };
  } catch (error) {
    if (error instanceof CsvError)
      throw new AnalysisError("sheet-not-text", { file, looksLike: error.message.slice(0, 200) });
    throw error;
  }
}

/** The mapping under which an exported table is read again: each field from the column of its name. */
export function exportMapping(table: TableName, headers: readonly string[]): Mapping {
  const fields: readonly FieldDescriptor[] = tableDescriptors[table].fields;
  const there = fields.filter(({ name }) => headers.includes(name));
  return {
    name: `export: ${table}`,
    version: 1,
    fingerprint: `export ${table}`,
    format: { encoding: "utf-8", delimiter: ",", decimal: ".", skipLines: 0, comment: null, dateOrder: {} },
    tables: [{ table, columns: Object.fromEntries(there.map(({ name }) => [name, { from: name }])) }],
    addRows: [],
  };
}

/**
 * Reads one exported table: every value exactly as it was, with the cells it once came from. A line that somebody
 * changed so that it no longer reads is set aside as written, with why.
 */
export function readExportedTable(bytes: Uint8Array, file: string, table: TableName): MappedSheet {
  const { headers, rows } = exportedRows(bytes, file);
  const fields: readonly FieldDescriptor[] = tableDescriptors[table].fields;
  const at = new Map(headers.map((header, index) => [header, index]));
  const lines: MappedSheet["lines"][number][] = [];
  const setAside: MappedSheet["setAside"][number][] = [];
  for (const { line, cells } of rows) {
    const origin = { file, sheet: null, line };
    const problems: Problem[] = [];
    const values: Record<string, unknown> = {};
    const cellOf = (name: string) => cells[at.get(name) ?? -1] ?? null;
    for (const field of fields) {
      if (!at.has(field.name)) continue;
      const cell = cellOf(field.name);
      const read = importCell(cell, field);
      const code = "problem" in read ? read.problem : read.value === null && field.required ? "missing-required" : null;
      if (code !== null) {
        const facts = { table, field: field.name };
        problems.push({ code, severity: "error", origin, column: field.name, value: cell, facts });
      }
      values[field.name] = "value" in read ? read.value : null;
    }
    if (problems.length > 0) {
      setAside.push({ line, cells: cells.map((cell) => cell ?? ""), problems });
      continue;
    }
    const key = keyOf(table, values as Row<TableName>);
    const row: MappedRow = { table, key, values, asWritten: writtenCells(cellOf("as_written")), origin };
    lines.push({ line, rows: [row] });
  }
  return { file, sheet: null, lines, setAside, problems: setAside.flatMap((each) => each.problems) };
}

/** The cells of the sheet that the row was exported from. */
function writtenCells(cell: string | null): Readonly<Record<string, string>> {
  if (cell === null) return {};
  try {
    const parsed: unknown = JSON.parse(cell);
    if (typeof parsed !== "object" || parsed === null || Array.isArray(parsed)) return {};
    return Object.fromEntries(
      Object.entries(parsed).filter((pair): pair is [string, string] => typeof pair[1] === "string"),
    );
  } catch {
    return {};
  }
}
