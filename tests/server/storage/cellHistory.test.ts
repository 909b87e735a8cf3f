// The history of a row: each version with the batch that brought it about, however often it went and came back.
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { CellStep } from "../../../analysis/index.ts";
import type { Store } from "../../../server/storage/store.ts";
import { firstRuns, runDrop } from "./support/drops.ts";
import { type Engine, engines, startEngine } from "./support/engines.ts";

const at = (day: number) => `2026-01-${String(day).padStart(2, "0")}T08:00:00.000Z`;
const r2 = { table: "runs", key: '["R2"]' } as const;
const r1 = { table: "runs", key: '["R1"]' } as const;
const line = (hours: string) => `R2,S2,2025-01-03,2025-01-10,${hours},tool failed`;
const told = ({ field, row, was, becomes, by, who, when, why }: CellStep) => [
  when.slice(8, 10),
  row ?? field,
  was,
  becomes,
  by.kind === "answer" ? by.verdict : by.kind === "undo" ? `${by.batch} undoes ${by.undoes}` : by.batch,
  who,
  why,
];

describe.each(engines)("the history of a row in the %s store", (kind) => {
  let engine: Engine;
  beforeAll(async () => {
    engine = await startEngine(kind);
  });
  afterAll(() => engine.stop());
  const withStore = async (work: (store: Store) => Promise<void>) => {
    const { store } = await engine.freshStore();
    try {
      await work(store);
    } finally {
      await store.close();
    }
  };

  test("drop, changed drop with its reason, answer, undo: old and new value, who, when, why, in order", () =>
    withStore(async (store) => {
      await store.storeBatch(runDrop(firstRuns, { when: at(1) }));
      await store.storeBatch(runDrop([line("81")], { who: "AB", when: at(2), why: "read from the rig's log" }));
      const answer = { table: "runs", key: '["R2"]', column: "hours", rule: "hours missing", why: "gauge" } as const;
      await store.addAnswers([{ ...answer, was: 81, becomes: 80, verdict: "correct" }], "CD", at(3));
      await store.undoBatch(2, "EF", at(4));
      expect((await store.cellHistory(r2, "hours")).map(told)).toEqual([
        ["01", "brought in", null, null, 1, "NN", null],
        ["02", "hours", null, 81, 2, "AB", "read from the rig's log"],
        ["03", "hours", 81, 80, "correct", "CD", "gauge"],
        ["04", "hours", 81, null, "3 undoes 2", "EF", null],
      ]);
      expect((await store.cellHistory(r2, "serial")).map(told)).toEqual([
        ["01", "brought in", null, null, 1, "NN", null],
        ["01", "serial", null, "S2", 1, "NN", null],
      ]);
      const [, , decided] = await store.cellHistory(r2, null);
      expect(decided?.by).toMatchObject({ kind: "answer", state: "stale" });
      const [first] = await store.cellHistory(r2, null);
      expect(first?.by).toEqual({ kind: "drop", batch: 1, origin: { file: "runs.csv", sheet: null, line: 3 } });
      expect((await store.batches())[1]?.why).toBe("read from the rig's log");
    }));

  test("a row taken out, brought back by an undo of the undo, taken out again and dropped anew", () =>
    withStore(async (store) => {
      await store.storeBatch(runDrop(firstRuns, { when: at(1) }));
      await store.undoBatch(1, "EF", at(2));
      await store.undoBatch(2, "EF", at(3));
      await store.undoBatch(3, "EF", at(4));
      await store.storeBatch(runDrop([line("70")], { when: at(5) }));
      await store.storeBatch(runDrop([line("71")], { when: at(6) }));
      expect((await store.cellHistory(r2, null)).map(told)).toEqual([
        ["01", "brought in", null, null, 1, "NN", null],
        ["02", "taken out", null, null, "2 undoes 1", "EF", null],
        ["03", "brought back", null, null, "3 undoes 2", "EF", null],
        ["04", "taken out", null, null, "4 undoes 3", "EF", null],
        ["05", "brought back", null, null, 5, "NN", null],
        ["06", "hours", 70, 71, 6, "NN", null],
      ]);
      expect((await store.cellHistory(r1, null)).at(-1)?.row).toBe("taken out");
      expect(await store.cellHistory({ table: "runs", key: '["R77"]' }, null)).toEqual([]);
    }));
});
