import type { KeptRow } from "./compareRows.ts";
import type { ColumnType } from "./insertRows.ts";
import { insertRows } from "./insertRows.ts";
import type { Sql } from "./sql.ts";
import type { RowRef } from "./types.ts";

/** A version of a row, with the batch that wrote it. */
export type RowVersion = KeptRow & { readonly batch: number };

/** One row that a batch moved from one version to another; null where there was or is no row. */
export interface RowMove extends RowRef {
  readonly was: RowVersion | null;
  readonly becameBatch: number | null;
}

const columns: Readonly<Record<string, ColumnType>> = {
  changed_by: "integer",
  table_name: "text",
  key: "text",
  was_batch: "integer",
  became_batch: "integer",
  was: "json",
};

/** Keeps the versions that a batch replaces or takes out. */
export async function keepHistory(sql: Sql, batch: number, moves: readonly RowMove[]): Promise<void> {
  await insertRows(sql, "row_history", columns, moves, ({ table, key, was, becameBatch }) => ({
    changed_by: batch,
    table_name: table,
    key,
    was_batch: was?.batch ?? null,
    became_batch: becameBatch,
    was: was === null ? null : { values: was.values, asWritten: was.asWritten, origin: was.origin, added: was.added },
  }));
}
