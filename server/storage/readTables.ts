import { type FieldDescriptor, tableDescriptors, tableNames } from "../../analysis/index.ts";
import { breather } from "./breather.ts";
import { canonicalJson, hashOfSet, sha256 } from "./canonicalJson.ts";
import { isText } from "./checkStorable.ts";
import type { RowVersion } from "./rowHistory.ts";
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

/** Rows or keys that go over at once: few enough to be done in a moment. */
const rowsAtOnce = 1_000;

/** Reads a table in the caller's transaction, piece by piece, with the event loop given back between them. */
export async function loadTable(sql: Sql, table: TableName): Promise<LoadedTable> {
  const names = fieldNames(table);
  const columns = names.map((name) => `t.${quoted(name)}`).join(", ");
  const rows: LoadedTable["rows"][number][] = [];
  const texts: string[] = [];
  const breathe = breather();
  // An array of values is half the text of an object; a row's key is made of its values and need not travel.
  await sql.query(
    `declare loaded no scroll cursor for
     select json_build_array(${columns}) as row from ${quoted(table)} t order by key collate "C"`,
  );
  for (let more = true; more; ) {
    const tuples = await jsonRows<readonly unknown[]>(sql, `fetch ${rowsAtOnce} from loaded`);
    for (const tuple of tuples) {
      rows.push(Object.fromEntries(names.map((name, index) => [name, tuple[index] ?? null])));
      texts.push(JSON.stringify(tuple));
    }
    more = tuples.length === rowsAtOnce;
    await breathe();
  }
  await sql.query("close loaded");
  return { rows, hash: hashOfSet(texts) };
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

/**
 * Rows by reference, in any order; those that are not there are left out.
 *
 * @param inHand  A batch that is being written in this very transaction: its rows are given as they were before it.
 */
export async function findRows(
  sql: Sql,
  refs: readonly RowRef[],
  inHand: number | null = null,
): Promise<readonly RowVersion[]> {
  const keys = new Map<TableName, Set<string>>();
  for (const { table, key } of refs) {
    // A key that holds no text names no row, and must not fail in somebody else's transaction.
    if (Object.hasOwn(tableDescriptors, table) && isText(key)) keys.set(table, (keys.get(table) ?? new Set()).add(key));
  }
  const found: RowVersion[] = [];
  const breathe = breather();
  for (const [table, wanted] of keys) {
    const all = [...wanted];
    for (let start = 0; start < all.length; start += rowsAtOnce) {
      const asked = JSON.stringify(all.slice(start, start + rowsAtOnce));
      const raw = await jsonRows<RawRow>(
        sql,
        `select row_to_json(t) as row from ${quoted(table)} t
         where key in (select json_array_elements_text($1::json))`,
        [asked],
      );
      const rows = raw.map((row) => keptRow(table, row));
      for (const row of inHand === null ? rows : await beforeBatch(sql, inHand, table, asked, rows)) found.push(row);
      await breathe();
    }
  }
  return found;
}

/** Rows as they stood before a batch that is being written: what it replaced or took out is in the history already. */
async function beforeBatch(
  sql: Sql,
  batch: number,
  table: TableName,
  asked: string,
  rows: readonly RowVersion[],
): Promise<readonly RowVersion[]> {
  const moved = await jsonRows<{
    readonly key: string;
    readonly was: Omit<RowVersion, "table" | "key" | "batch"> | null;
    readonly batch: number;
  }>(
    sql,
    `select json_build_object('key', key, 'was', was, 'batch', was_batch) as row
     from row_history where changed_by = $1 and table_name = $2
     and key in (select json_array_elements_text($3::json))`,
    [batch, table, asked],
  );
  const known = new Set(moved.map(({ key }) => key));
  return [
    ...rows.filter((row) => row.batch !== batch && !known.has(row.key)),
    ...moved.flatMap(({ key, was, batch: wroteIt }) => (was === null ? [] : [{ ...was, table, key, batch: wroteIt }])),
  ];
}

/** All rows of a table, in order of key. */
export async function readRows(sql: Sql, table: TableName): Promise<readonly RowVersion[]> {
  const raw = await jsonRows<RawRow>(
    sql,
    `select row_to_json(t) as row from ${quoted(table)} t order by key collate "C"`,
  );
  return raw.map((row) => keptRow(table, row));
}

function keptRow(table: TableName, row: RawRow): RowVersion {
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
  { table, key, values, asWritten, origin, batch }: RowVersion,
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
