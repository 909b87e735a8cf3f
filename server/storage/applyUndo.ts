import { insertRows } from "./insertRows.ts";
import type { UndoPlan } from "./planUndo.ts";
import { dataHashOf, loadTables, newestMappings, type StoreContent } from "./readTables.ts";
import { keepHistory } from "./rowHistory.ts";
import { jsonRows, type Sql } from "./sql.ts";
import type { LineCounts, StoredBatch } from "./types.ts";
import { removeRows, writeRows } from "./writeRows.ts";

export interface UndoContent {
  readonly batch: number;
  readonly who: string;
  readonly when: string;
}

const noLines: LineCounts = { lines: 0, new: 0, unchanged: 0, changed: 0, setAside: 0 };

/**
 * Takes a batch back, in the caller's transaction. What it moves is kept in the history of rows under its own number,
 * so that it can be taken back in turn.
 */
export async function applyUndo(
  sql: Sql,
  { batch, who, when }: UndoContent,
  plan: UndoPlan,
  now: StoreContent,
): Promise<{ readonly stored: StoredBatch; readonly content: StoreContent }> {
  const [wordsVersion] = await jsonRows<number>(
    sql,
    "select to_json(coalesce(max(version), 0)) as row from word_lists",
  );
  await insertRows(
    sql,
    "batches",
    {
      batch: "integer",
      stored_at: "text",
      who: "text",
      words_version: "integer",
      data_hash: "text",
      undoes: "integer",
      lines: "integer",
      new: "integer",
      unchanged: "integer",
      changed: "integer",
      set_aside: "integer",
    },
    [plan],
    () => ({
      batch,
      stored_at: when,
      who,
      words_version: wordsVersion ?? 0,
      data_hash: "",
      undoes: plan.undoes,
      lines: 0,
      new: 0,
      unchanged: 0,
      changed: 0,
      set_aside: 0,
    }),
  );
  await keepHistory(sql, batch, plan.moves);
  const removed = await removeRows(
    sql,
    plan.moves.filter(({ becomes }) => becomes === null),
  );
  const written = await writeRows(
    sql,
    plan.moves.flatMap(({ becomes }) => becomes ?? []),
  );
  const touched = [...new Set([...removed, ...written])];
  const content = { ...now, tables: new Map([...now.tables, ...(await loadTables(sql, touched))]) };
  const dataHash = dataHashOf(content, await newestMappings(sql));
  await sql.query("update batches set data_hash = $2 where batch = $1", [batch, dataHash]);
  return {
    stored: { batch, storedAt: when, who, files: [], counts: noLines, dataHash, undoes: plan.undoes },
    content,
  };
}
