import assert from "node:assert/strict";
import { tableNames } from "../../../../analysis/index.ts";
import type { Store } from "../../../../server/storage/store.ts";
import type { StoredBatch } from "../../../../server/storage/types.ts";
import { type HistoryDeed, historyStep, takeHistoryStep } from "./historySteps.ts";

/** Where a history is played: how its store is opened, killed in the middle of a step, and made again from its journal. */
export interface HistoryStage {
  /** The store of the history as it was left. */
  open(): Promise<Store>;
  /** Takes a step in a process that is killed on the way; resolves when it is dead or done. The store is closed. */
  takeAndDie(seed: number, index: number): Promise<"killed" | "done">;
  /** Table hashes of the store made again from its journal alone. The store is closed. */
  rebuilt(): Promise<Readonly<Record<string, string>>>;
}

export interface HistoryReport {
  readonly steps: number;
  readonly deeds: { readonly [D in HistoryDeed]: number };
  readonly kills: number;
  readonly refused: number;
  /** Undos whose rows were held against snapshots taken on the way. */
  readonly undosChecked: number;
  readonly batches: number;
  readonly answers: number;
  readonly stale: number;
  readonly rows: number;
}

/** Every row by place, with the batch that wrote it. */
type Snapshot = ReadonlyMap<string, string>;

/**
 * Plays a random history of drops, edits, answers, undos and kills and checks on the way: everything acknowledged is
 * there, an undo does to each row what snapshots of the whole store say, and in the end the journal alone gives the same
 * tables.
 *
 * Throws  an assertion that says what differs
 */
export async function runHistory(stage: HistoryStage, seed: number, steps: number): Promise<HistoryReport> {
  const snapshots = new Map<number, Snapshot>([[0, new Map()]]);
  const deeds = { drop: 0, edit: 0, answers: 0, undo: 0 };
  let [kills, refused, undosChecked] = [0, 0, 0];
  let store = await stage.open();
  for (let index = 0; index < steps; index += 1) {
    const { deed, killAt } = historyStep(seed, index);
    deeds[deed] += 1;
    const before = await standing(store);
    let acknowledged = true;
    if (killAt === null) {
      if ((await takeHistoryStep(store, seed, index)).startsWith("refused")) refused += 1;
    } else {
      await store.close();
      const how = await stage.takeAndDie(seed, index);
      if (how === "killed") kills += 1;
      acknowledged = how === "done";
      store = await stage.open();
    }
    const after = await standing(store);
    const place = `history ${seed}, step ${index} (${deed}${killAt === null ? "" : `, killed at ${killAt}`})`;
    // Whole or absent: at most one batch or one lot of answers more, and never fewer.
    const more = after.batches.length - before.batches.length;
    assert.ok(more === 0 || more === 1, `${place}: ${more} batches more`);
    assert.deepEqual(after.batches.slice(0, before.batches.length), before.batches, place);
    assert.deepEqual(after.answers.slice(0, before.answers.length), before.answers, place);
    const late =
      killAt === "journal written" ||
      killAt === "before commit" ||
      killAt === "after commit" ||
      killAt === "before reply";
    if (!acknowledged) {
      const stored = more === 1 || after.answers.length > before.answers.length;
      assert.equal(stored, late, `${place}: ${stored ? "stored" : "absent"}`);
    }
    const newest = after.batches.at(-1);
    if (more === 1 && newest !== undefined) {
      if (newest.undoes !== undefined) {
        assertUndone(after.rows, before.rows, snapshots, newest.undoes, place);
        undosChecked += 1;
      }
      snapshots.set(newest.batch, after.rows);
    } else assert.deepEqual(after.rows, before.rows, `${place}: rows moved without a batch`);
  }
  const [hashes, end] = [await store.tableHashes(), await standing(store)];
  const { stale } = await store.loadShop();
  await store.close();
  assert.deepEqual(await stage.rebuilt(), hashes, `history ${seed}: the journal gives other tables`);
  return {
    steps,
    deeds,
    kills,
    refused,
    undosChecked,
    batches: end.batches.length,
    answers: end.answers.length,
    stale: stale.length,
    rows: end.rows.size,
  };
}

async function standing(store: Store) {
  const rows = new Map<string, string>();
  for (const table of tableNames) {
    for (const { key, values, asWritten, origin, batch } of await store.rowsOf(table)) {
      rows.set(`${table} ${key}`, JSON.stringify({ batch, values, asWritten, origin }));
    }
  }
  const batches: readonly StoredBatch[] = await store.batches();
  return { rows, batches, answers: await store.answers() };
}

/** The rule of an undo, said over whole snapshots: what stands as the batch left it becomes what it was before. */
function assertUndone(
  now: Snapshot,
  before: Snapshot,
  snapshots: ReadonlyMap<number, Snapshot>,
  undoes: number,
  place: string,
): void {
  const left = snapshots.get(undoes) ?? new Map<string, string>();
  const earlier = snapshots.get(undoes - 1) ?? new Map<string, string>();
  const expected = new Map(before);
  for (const row of new Set([...left.keys(), ...earlier.keys()])) {
    if (left.get(row) === earlier.get(row) || before.get(row) !== left.get(row)) continue;
    const was = earlier.get(row);
    if (was === undefined) expected.delete(row);
    else expected.set(row, was);
  }
  assert.deepEqual(new Map([...now].sort()), new Map([...expected].sort()), `${place}: undo of batch ${undoes}`);
}
