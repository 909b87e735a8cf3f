import { type FieldDescriptor, sameValue, tableDescriptors, tableNames } from "../../analysis/index.ts";
import type { KeptRow } from "./compareRows.ts";
import { placeOf } from "./compareRows.ts";
import { findRows } from "./readTables.ts";
import type { RowMove, RowVersion } from "./rowHistory.ts";
import { jsonRows, quoted, type Sql } from "./sql.ts";
import { StorageError } from "./storageError.ts";
import type { RowRef, TableName, UndoneRow, UndoPreview } from "./types.ts";

/** What taking a batch back moves. */
export interface UndoPlan {
  readonly undoes: number;
  /** Rows as they stand (`was`) and the version they return to. */
  readonly moves: readonly (RowMove & { readonly becomes: RowVersion | null })[];
  /** Rows that a later batch changed, with that batch: they stay. */
  readonly kept: readonly (RowRef & { readonly changedBy: number })[];
}

/** A row that the batch moved: the version it left, by the batch that wrote it, and the version before. */
interface MovedRow {
  readonly table: TableName;
  readonly key: string;
  readonly left: number | null;
  readonly before: RowVersion | null;
}

interface RawMove {
  readonly table_name: TableName;
  readonly key: string;
  readonly was_batch: number | null;
  readonly became_batch: number | null;
  readonly was: Omit<KeptRow, "table" | "key"> | null;
}

/**
 * Works out what taking a batch back would do, without doing it. Each row that stands as the batch left it returns to
 * the version before the batch; one that a later batch changed stays.
 *
 * Conventions  Mappings and words stay: what was learnt of the sheets holds for the next drop. A row that returns does
 *              so with its cells, its place and the batch that wrote it.
 * Errors       "no-such-batch"
 */
export async function planUndo(sql: Sql, batch: number): Promise<UndoPlan> {
  const [found] = await jsonRows<number>(sql, "select to_json(batch) as row from batches where batch = $1", [batch]);
  if (found === undefined) throw new StorageError("no-such-batch", { batch });

  const moved = await movedBy(sql, batch);
  const current = new Map((await findRows(sql, moved)).map((row) => [placeOf(row), row]));
  const moves: UndoPlan["moves"][number][] = [];
  const changed: RowRef[] = [];
  for (const { table, key, left, before } of moved) {
    const now = current.get(placeOf({ table, key })) ?? null;
    if ((now?.batch ?? null) !== left) changed.push({ table, key });
    else moves.push({ table, key, was: now, becameBatch: before?.batch ?? null, becomes: before });
  }
  const changers = await lastChangers(sql, changed);
  const kept = changed.map((ref) => ({
    ...ref,
    changedBy: Math.max(changers.get(placeOf(ref)) ?? 0, current.get(placeOf(ref))?.batch ?? 0),
  }));
  return { undoes: batch, moves, kept };
}

async function movedBy(sql: Sql, batch: number): Promise<readonly MovedRow[]> {
  const written = await jsonRows<RawMove>(
    sql,
    `select row_to_json(h) as row from row_history h where changed_by = $1 order by table_name, key collate "C"`,
    [batch],
  );
  const rows: MovedRow[] = written.map(({ table_name: table, key, was_batch, became_batch, was }) => ({
    table,
    key,
    left: became_batch,
    before: was === null || was_batch === null ? null : { ...was, table, key, batch: was_batch },
  }));
  const known = new Set(rows.map(placeOf));
  // New rows of a drop left no line: they are those whose version it wrote, still there or replaced since.
  const fresh: RowRef[] = [];
  for (const table of tableNames) {
    const keys = await jsonRows<string>(
      sql,
      `select to_json(key) as row from ${quoted(table)} where batch = $1 order by key collate "C"`,
      [batch],
    );
    fresh.push(...keys.map((key) => ({ table, key })));
  }
  fresh.push(
    ...(await jsonRows<RowRef>(
      sql,
      `select json_build_object('table', table_name, 'key', key) as row
       from row_history where was_batch = $1 order by table_name, key collate "C"`,
      [batch],
    )),
  );
  for (const { table, key } of fresh) {
    const place = placeOf({ table, key });
    if (known.has(place)) continue;
    known.add(place);
    rows.push({ table, key, left: batch, before: null });
  }
  return rows;
}

async function lastChangers(sql: Sql, refs: readonly RowRef[]): Promise<ReadonlyMap<string, number>> {
  if (refs.length === 0) return new Map();
  const found = await jsonRows<{ readonly table: TableName; readonly key: string; readonly batch: number }>(
    sql,
    `select json_build_object('table', table_name, 'key', key, 'batch', max(changed_by)) as row
     from row_history where key in (select json_array_elements_text($1::json)) group by table_name, key`,
    [JSON.stringify(refs.map(({ key }) => key))],
  );
  return new Map(found.map(({ table, key, batch }) => [placeOf({ table, key }), batch]));
}

const shown = 500;

/**
 * The plan in what a person reads: counts, and the first rows with their cells. A row that keeps its values and only
 * points to other cells afterwards is not counted.
 */
export function previewOf({ undoes, moves, kept }: UndoPlan): UndoPreview {
  const rows = moves.map(undoneRow).filter(({ what, cells }) => what !== "restored" || cells.length > 0);
  const count = (what: UndoneRow["what"]) => rows.filter((row) => row.what === what).length;
  return {
    undoes,
    removed: count("removed"),
    restored: count("restored"),
    returned: count("returned"),
    kept: kept.length,
    rows: rows.slice(0, shown),
    keptRows: kept.slice(0, shown),
  };
}

function undoneRow({ table, key, was, becomes }: UndoPlan["moves"][number]): UndoneRow {
  const fields: readonly FieldDescriptor[] = tableDescriptors[table].fields;
  return {
    table,
    key,
    what: becomes === null ? "removed" : was === null ? "returned" : "restored",
    cells: fields
      .map(({ name }) => ({ field: name, was: was?.values[name] ?? null, becomes: becomes?.values[name] ?? null }))
      .filter((cell) => !sameValue(cell.was, cell.becomes)),
  };
}
