import { type FieldDescriptor, tableDescriptors } from "../../analysis/index.ts";
import { type ColumnType, insertRows } from "./insertRows.ts";
import type { RowVersion } from "./rowHistory.ts";
import { quoted, type Sql } from "./sql.ts";
import type { RowRef, TableName } from "./types.ts";

const columnTypes: { readonly [T in FieldDescriptor["type"]]: ColumnType } = {
  string: "text",
  number: "double precision",
  integer: "bigint",
  boolean: "boolean",
  date: "date",
  array: "text[]",
};

const provenanceColumns = {
  key: "text",
  as_written: "json",
  source_file: "text",
  sheet: "text",
  line: "integer",
  added: "boolean",
  batch: "integer",
} as const;

/** Inserts or replaces canonical rows, whole. Returns the tables touched. */
export async function writeRows(sql: Sql, rows: readonly RowVersion[]): Promise<readonly TableName[]> {
  const byTable = grouped(rows);
  for (const [table, own] of byTable) {
    const fields: readonly FieldDescriptor[] = tableDescriptors[table].fields;
    await insertRows(
      sql,
      table,
      { ...provenanceColumns, ...Object.fromEntries(fields.map(({ name, type }) => [name, columnTypes[type]])) },
      own,
      ({ key, values, asWritten, origin, added, batch }) => ({
        ...values,
        key,
        as_written: asWritten,
        source_file: origin.file,
        sheet: origin.sheet,
        line: origin.line,
        added,
        batch,
      }),
      "key",
    );
  }
  return [...byTable.keys()];
}

/** Takes canonical rows out. Returns the tables touched. */
export async function removeRows(sql: Sql, refs: readonly RowRef[]): Promise<readonly TableName[]> {
  const byTable = grouped(refs);
  for (const [table, own] of byTable) {
    await sql.query(`delete from ${quoted(table)} where key in (select json_array_elements_text($1::json))`, [
      JSON.stringify(own.map(({ key }) => key)),
    ]);
  }
  return [...byTable.keys()];
}

function grouped<R extends RowRef>(rows: readonly R[]): ReadonlyMap<TableName, readonly R[]> {
  const byTable = new Map<TableName, R[]>();
  for (const row of rows) {
    const own = byTable.get(row.table);
    if (own === undefined) byTable.set(row.table, [row]);
    else own.push(row);
  }
  return byTable;
}
