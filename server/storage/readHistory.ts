import { isText } from "./checkStorable.ts";
import { findRows } from "./readTables.ts";
import { jsonRows, type Sql } from "./sql.ts";
import type { Origin, RowRef } from "./types.ts";

/** Values of a row as some batch left it, with where they came from. */
export interface HistoryVersion {
  readonly values: Readonly<Record<string, unknown>>;
  readonly origin: Origin;
}

/** One version of a row that the store ever held, with the batch that brought it about. */
export interface HistoryStep {
  /** Null where the batch took the row out. */
  readonly version: HistoryVersion | null;
  readonly batch: number;
  readonly when: string;
  readonly who: string;
  readonly why: string | null;
  /** The batch that this one takes back. */
  readonly undoes: number | null;
}

interface RawMove {
  readonly changed_by: number;
  readonly was_batch: number | null;
  readonly became_batch: number | null;
  readonly was: HistoryVersion | null;
}

interface RawBatch {
  readonly batch: number;
  readonly stored_at: string;
  readonly who: string;
  readonly why: string | null;
  readonly undoes: number | null;
}

/**
 * Every version of one row, oldest first. Empty where no batch ever held the row.
 *
 * Conventions  A drop that brings a new row leaves no line in `row_history`, so a version whose writer the move before it
 *              does not name was brought by the drop that wrote it.
 *
 * @param inHand  A batch that is being written in this very transaction, which is not told yet.
 */
export async function readHistory(
  sql: Sql,
  { table, key }: RowRef,
  inHand: number | null = null,
): Promise<readonly HistoryStep[]> {
  if (!isText(key)) return [];
  const moves = await jsonRows<RawMove>(
    sql,
    "select row_to_json(h) as row from row_history h where table_name = $1 and key = $2 and changed_by is distinct from $3::integer order by changed_by",
    [table, key, inHand],
  );
  const [now] = await findRows(sql, [{ table, key }], inHand);
  const steps: { readonly by: number; readonly version: HistoryVersion | null }[] = [];
  const bring = (before: RawMove | undefined, writer: number, version: HistoryVersion) =>
    steps.push({ by: before?.became_batch === writer ? before.changed_by : writer, version });
  for (const [index, { was, was_batch: writer, became_batch: became, changed_by: by }] of moves.entries()) {
    if (was !== null && writer !== null) bring(moves[index - 1], writer, was);
    if (became === null) steps.push({ by, version: null });
  }
  if (now !== undefined) bring(moves.at(-1), now.batch, now);

  const batches = await jsonRows<RawBatch>(
    sql,
    `select row_to_json(b) as row from batches b
     where batch in (select value::int from json_array_elements_text($1::json) as given(value))`,
    [JSON.stringify([...new Set(steps.map(({ by }) => by))])],
  );
  const named = new Map(batches.map((batch) => [batch.batch, batch]));
  return steps.map(({ by, version }) => {
    const batch = named.get(by);
    return {
      version: version === null ? null : { values: version.values, origin: version.origin },
      batch: by,
      when: batch?.stored_at ?? "",
      who: batch?.who ?? "",
      why: batch?.why ?? null,
      undoes: batch?.undoes ?? null,
    };
  });
}
