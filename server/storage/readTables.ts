import { type FieldDescriptor, tableDescriptors, tableNames } from "../../analysis/index.ts";
import { canonicalJson, hashOfSet, sha256 } from "./canonicalJson.ts";
import type { KeptRow } from "./compareRows.ts";
import { jsonRows, quoted, type Sql } from "./sql.ts";
import type { Answer, Correction, Mapping, Records, RowRef, StoredRow, TableName, WordList } from "./types.ts";

/** A row as the database gives it: the fields and the columns of its provenance. */
interface RawRow extends Readonly<Record<string, unknown>> {
  readonly key: string;
  readonly as_written: Readonly<Record<string, string>>;
  readonly source_file: string;
  readonly sheet: string | null;
  readonly line: number;
  readonly added: boolean;
  readonly batch: number;
}

/** The rows of one table, in order of key, with the hash of their values. */
export interface LoadedTable {
  readonly rows: readonly Readonly<Record<string, unknown>>[];
  readonly hash: string;
}

/** Tables of the store beside the canonical ones whose content a rebuild must come to again. */
const bookkeepingTables = [
  "source_files",
  "set_aside",
  "problems",
  "mappings",
  "word_lists",
  "setup_rows",
  "row_history",
  "answers",
  "batches",
];

/** Every table whose content comes from the journal, rows before the batches they refer to. */
export const storeTables: readonly string[] = [...tableNames, ...bookkeepingTables];

export async function loadTable(sql: Sql, table: TableName): Promise<LoadedTable> {
  const names = fieldNames(table);
  const columns = names.map((name) => `t.${quoted(name)}`).join(", ");
  // An array of values is half the text of an object; a row's key is made of its values and need not travel.
  const tuples = await jsonRows<readonly unknown[]>(
    sql,
    `select json_build_array(${columns}) as row from ${quoted(table)} t order by key collate "C"`,
  );
  const rows = tuples.map((tuple) => Object.fromEntries(names.map((name, index) => [name, tuple[index] ?? null])));
  return { rows, hash: hashOfSet(tuples.map((tuple) => JSON.stringify(tuple))) };
}

export async function loadTables(
  sql: Sql,
  tables: readonly TableName[] = tableNames,
): Promise<ReadonlyMap<TableName, LoadedTable>> {
  const loaded = new Map<TableName, LoadedTable>();
  for (const table of tables) loaded.set(table, await loadTable(sql, table));
  return loaded;
}

export function recordsOf(tables: ReadonlyMap<TableName, LoadedTable>): Records {
  return Object.fromEntries([...tables].map(([table, { rows }]) => [table, rows])) as Records;
}

/** All that a study may depend on, as the tables hold it. */
export interface StoreContent {
  readonly tables: ReadonlyMap<TableName, LoadedTable>;
  /** In the order decided. */
  readonly answers: readonly Answer[];
}

/** Tables that stores did not have from the start: while one is empty, the data are named as they were before it. */
const laterTables: ReadonlySet<TableName> = new Set(["planned_runs", "stock", "costs", "decisions"]);

/**
 * Names the data: values of all tables, what was answered for what the sheets do not say, and what was decided about
 * cells. Where rows came from plays no part, nor who decided and when.
 */
export function dataHashOf({ tables, answers }: StoreContent, mappings: readonly Mapping[]): string {
  const hashes = tableNames
    .filter((table) => !laterTables.has(table) || (tables.get(table)?.rows.length ?? 0) > 0)
    .map((table) => [table, tables.get(table)?.hash ?? null]);
  const said = [[...statementsOf(mappings)].sort(), [...openQuestionsOf(mappings)].sort()];
  const inTime = answers
    .map((answer, index) => ({ answer, index }))
    .sort((a, b) => (a.answer.when < b.answer.when ? -1 : a.answer.when > b.answer.when ? 1 : a.index - b.index))
    .map(({ answer }) => answer);
  const decided = inTime.map(({ table, key, column, was, becomes, verdict, rule }) =>
    canonicalJson([table, key, column, was, becomes, verdict, rule]),
  );
  return sha256(JSON.stringify([hashes, ...said, ...(decided.length > 0 ? [decided] : [])]));
}

/** Rows by reference, in any order; those that are not there are left out. */
export async function findRows(
  sql: Sql,
  refs: readonly RowRef[],
): Promise<readonly (KeptRow & { readonly batch: number })[]> {
  const keys = new Map<TableName, Set<string>>();
  for (const { table, key } of refs) {
    if (Object.hasOwn(tableDescriptors, table)) keys.set(table, (keys.get(table) ?? new Set()).add(key));
  }
  const found: (KeptRow & { readonly batch: number })[] = [];
  for (const [table, wanted] of keys) {
    const raw = await jsonRows<RawRow>(
      sql,
      `select row_to_json(t) as row from ${quoted(table)} t
       where key in (select json_array_elements_text($1::json))`,
      [JSON.stringify([...wanted])],
    );
    found.push(...raw.map((row) => keptRow(table, row)));
  }
  return found;
}

/** All rows of a table, in order of key. */
export async function readRows(sql: Sql, table: TableName): Promise<readonly (KeptRow & { readonly batch: number })[]> {
  const raw = await jsonRows<RawRow>(
    sql,
    `select row_to_json(t) as row from ${quoted(table)} t order by key collate "C"`,
  );
  return raw.map((row) => keptRow(table, row));
}

function keptRow(table: TableName, row: RawRow): KeptRow & { readonly batch: number } {
  return {
    table,
    key: row.key,
    values: Object.fromEntries(fieldNames(table).map((name) => [name, row[name] ?? null])),
    asWritten: row.as_written,
    origin: { file: row.source_file, sheet: row.sheet, line: row.line },
    added: row.added,
    batch: row.batch,
  };
}

export function asStoredRow(
  { table, key, values, asWritten, origin, batch }: KeptRow & { readonly batch: number },
  corrections: readonly Correction[],
): StoredRow {
  const row = { table, key, values, asWritten, origin, batch };
  return corrections.length > 0 ? { ...row, corrections } : row;
}

/** The newest version of each mapping, in order of fingerprint. */
export async function newestMappings(sql: Sql): Promise<readonly Mapping[]> {
  return await jsonRows<Mapping>(
    sql,
    `select distinct on (fingerprint collate "C") mapping as row
     from mappings order by fingerprint collate "C", version desc`,
  );
}

/** The newest word list; version 0 and empty before the first batch. */
export async function newestWords(sql: Sql): Promise<WordList> {
  const [words] = await jsonRows<WordList>(sql, "select words as row from word_lists order by version desc limit 1");
  return words ?? { version: 0, vocabularies: {} };
}

export function openQuestionsOf(mappings: readonly Mapping[]): readonly string[] {
  return distinct(
    mappings.flatMap(({ addRows }) => addRows.filter(({ answered }) => !answered).map(({ question }) => question)),
  );
}

export function statementsOf(mappings: readonly Mapping[]): readonly string[] {
  return distinct(
    mappings.flatMap(({ addRows }) => addRows.filter(({ answered }) => answered).map(({ statement }) => statement)),
  );
}

/** One hash a table over every column of every row. */
export async function hashTables(sql: Sql): Promise<Readonly<Record<string, string>>> {
  const hashes: [string, string][] = [];
  for (const table of storeTables) {
    const rows = await jsonRows<unknown>(sql, `select row_to_json(t) as row from ${quoted(table)} t`);
    hashes.push([table, hashOfSet(rows.map(canonicalJson))]);
  }
  return Object.fromEntries(hashes);
}

const distinct = (texts: readonly string[]): readonly string[] => [...new Set(texts)];

function fieldNames(table: TableName): readonly string[] {
  const fields: readonly FieldDescriptor[] = tableDescriptors[table].fields;
  return fields.map(({ name }) => name);
}
