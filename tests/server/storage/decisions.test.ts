import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { sha256 } from "../../../server/storage/canonicalJson.ts";
import type { Store } from "../../../server/storage/store.ts";
import type { AnswerGiven } from "../../../server/storage/types.ts";
import { buildDrop, firstRuns, runDrop } from "./support/drops.ts";
import { dyingOver } from "./support/dyingDatabase.ts";
import { type Engine, engines, startEngine } from "./support/engines.ts";

const later = "2026-01-06T08:00:00.000Z";
const hoursOf = (run: string, was: number | null, becomes: number | null): AnswerGiven => ({
  table: "runs",
  key: JSON.stringify([run]),
  column: "hours",
  was,
  becomes,
  verdict: "correct",
  rule: "hours missing",
  why: "the log of the rig says so",
});
const withoutRun = (run: string): AnswerGiven => ({
  table: "runs",
  key: JSON.stringify([run]),
  column: null,
  was: null,
  becomes: null,
  verdict: "exclude",
  rule: "duplicate run",
  why: "written down twice",
});

const hours = async (store: Store) =>
  Object.fromEntries((await store.loadShop()).records.runs?.map(({ run, hours: each }) => [run, each ?? null]) ?? []);
const raw = async (store: Store) =>
  Object.fromEntries(
    (await store.loadRecords()).records.runs?.map(({ run, hours: each }) => [run, each ?? null]) ?? [],
  );

describe.each(engines)("decisions about records in the %s store", (kind) => {
  let engine: Engine;
  beforeAll(async () => {
    engine = await startEngine(kind);
  });
  afterAll(() => engine.stop());

  const withStore = async (work: (store: Store, folder: string) => Promise<void>) => {
    const { store, folder } = await engine.freshStore();
    try {
      await work(store, folder);
    } finally {
      await store.close();
    }
  };

  describe("answers", () => {
    test("are applied beside the sheet's values, change the data hash, and name who, when and why", () =>
      withStore(async (store) => {
        const { dataHash } = await store.storeBatch(runDrop(firstRuns));
        expect(await store.addAnswers([hoursOf("R2", null, 88), withoutRun("R1")], "CD", later)).toHaveLength(2);
        expect(await hours(store)).toEqual({ R2: 88 });
        expect(await raw(store)).toEqual({ R1: 96.25, R2: null });
        const shop = await store.loadShop();
        expect(shop.dataHash).not.toBe(dataHash);
        expect(shop.dataHash).toBe((await store.loadRecords()).dataHash);
        expect(shop).toMatchObject({ stale: [], applied: shop.answers });
        const [row] = await store.rowsByRef([{ table: "runs", key: '["R2"]' }]);
        expect(row).toMatchObject({
          values: { hours: null },
          corrections: [
            {
              column: "hours",
              sheetValue: null,
              state: "applied",
              answer: { becomes: 88, who: "CD", when: later, why: "the log of the rig says so" },
            },
          ],
        });
      }));

    test("go stale when the sheet says something else, and hold again when it says what it said", () =>
      withStore(async (store) => {
        await store.storeBatch(runDrop(firstRuns));
        await store.addAnswers([hoursOf("R1", 96.25, 90)], "CD", later);
        await store.storeBatch(runDrop(["R1,S1,2025-01-02,2025-01-09,97,planned"]));
        expect((await store.loadShop()).stale).toHaveLength(1);
        expect(await hours(store)).toMatchObject({ R1: 97 });
        const [row] = await store.rowsByRef([{ table: "runs", key: '["R1"]' }]);
        expect(row?.corrections?.map(({ state }) => state)).toEqual(["stale"]);
        await store.storeBatch(runDrop(["R1,S1,2025-01-02,2025-01-09,96.25,planned"]));
        expect((await store.loadShop()).stale).toEqual([]);
        expect(await hours(store)).toMatchObject({ R1: 90 });
      }));

    test("can correct a corrected cell again; the earlier one is kept as superseded", () =>
      withStore(async (store) => {
        await store.storeBatch(runDrop(firstRuns));
        await store.addAnswers([hoursOf("R1", 96.25, 90)], "CD", later);
        await store.addAnswers([hoursOf("R1", 90, 91)], "EF", "2026-01-07T08:00:00.000Z");
        expect(await hours(store)).toMatchObject({ R1: 91 });
        const [row] = await store.rowsByRef([{ table: "runs", key: '["R1"]' }]);
        expect(row?.corrections?.map(({ state, answer }) => [state, answer.who])).toEqual([
          ["superseded", "CD"],
          ["applied", "EF"],
        ]);
      }));

    test("that cannot be applied are refused, all of the lot, and nothing is written", () =>
      withStore(async (store, folder) => {
        await store.storeBatch(runDrop(firstRuns));
        const log = await readFile(join(folder, "journal", "log.jsonl"));
        const good = hoursOf("R2", null, 88);
        const refused: readonly (readonly [AnswerGiven, string, RegExp])[] = [
          [hoursOf("R1", 5, 6), "answer-outdated", /Answer 2 \(runs \["R1"\], hours\).*another one now/],
          [hoursOf("R9", null, 6), "answer-outdated", /not stored/],
          [hoursOf("R1", 96.25, -1), "bad-answer", /does not fit/],
          [{ ...hoursOf("R1", 96.25, null), becomes: "many" }, "bad-answer", /finite number/],
          [{ ...good, column: "weight" }, "bad-answer", /no such column/],
          [{ ...good, column: "run", was: "R2", becomes: "R3" }, "bad-answer", /key of a row/],
          [{ ...good, column: "out_on", was: "2025-01-03", becomes: "2025-02-30" }, "bad-answer", /no date/],
          [{ ...good, why: " " }, "bad-answer", /no reason/],
          [{ ...good, why: "\ud800" }, "bad-answer", /no text/],
        ];
        for (const [answer, code, message] of refused) {
          await expect(store.addAnswers([good, answer], "CD", later)).rejects.toMatchObject({
            code,
            message: expect.stringMatching(message),
          });
        }
        await expect(store.addAnswers([], "CD", later)).rejects.toMatchObject({ code: "bad-answer" });
        await expect(store.addAnswers([good], " ", later)).rejects.toMatchObject({ code: "bad-batch" });
        await expect(store.addAnswers([good], "CD", "soon")).rejects.toMatchObject({ code: "bad-batch" });
        expect(await store.answers()).toEqual([]);
        expect(await readFile(join(folder, "journal", "log.jsonl"))).toEqual(log);
      }));
  });

  describe("an undo", () => {
    const first = ["R1,S1,2025-01-02,,10,planned", "R2,S1,2025-02-02,,20,planned"];
    const second = ["R1,S1,2025-01-02,,11,planned", "R2,S1,2025-02-02,,20,planned", "R3,S1,2025-03-02,,30,planned"];

    test("gives rows back what they were, with their cells and places, and takes new ones out", () =>
      withStore(async (store) => {
        await store.storeBatch(runDrop(first));
        const refs = ["R1", "R2", "R3"].map((run) => ({ table: "runs" as const, key: JSON.stringify([run]) }));
        const [before, { dataHash }] = [await store.rowsByRef(refs), await store.loadRecords()];
        await store.storeBatch(runDrop(second));
        const preview = await store.previewUndo(2);
        expect(preview).toMatchObject({ undoes: 2, removed: 1, restored: 1, returned: 0, kept: 0 });
        expect(preview.rows.find(({ key }) => key === '["R1"]')).toMatchObject({
          what: "restored",
          cells: [{ field: "hours", was: 11, becomes: 10 }],
        });
        expect(await raw(store)).toEqual({ R1: 11, R2: 20, R3: 30 });
        const { stored, ...did } = await store.undoBatch(2, "CD", later);
        expect(did).toEqual(preview);
        expect(stored).toMatchObject({ batch: 3, undoes: 2, who: "CD", storedAt: later, files: [], dataHash });
        expect(await store.rowsByRef(refs)).toEqual(before);
        expect((await store.batches()).at(-1)).toEqual(stored);
        expect((await store.loadRecords()).dataHash).toBe(dataHash);
      }));

    test("of an undo brings the batch back, and the batch can then be taken back again", () =>
      withStore(async (store) => {
        await store.storeBatch(runDrop(first));
        const { dataHash } = await store.storeBatch(runDrop(second));
        for (const round of [0, 1]) {
          const undo = await store.undoBatch(2, "CD", later);
          expect(await raw(store)).toEqual({ R1: 10, R2: 20 });
          const back = await store.undoBatch(undo.stored.batch, "CD", later);
          expect(back).toMatchObject({ undoes: undo.stored.batch, removed: 0, restored: 1, returned: 1, kept: 0 });
          expect({ round, hash: (await store.loadRecords()).dataHash }).toEqual({ round, hash: dataHash });
        }
      }));

    test("leaves what a later batch changed and says which; taking that one back first takes all back", () =>
      withStore(async (store) => {
        await store.storeBatch(runDrop(first));
        await store.storeBatch(runDrop(second));
        await store.storeBatch(runDrop(["R1,S1,2025-01-02,,12,planned", "R3,S1,2025-03-02,,33,planned"]));
        await expect(store.previewUndo(2)).rejects.toMatchObject({ code: "nothing-to-undo", facts: { kept: 2 } });
        const partly = await store.previewUndo(1);
        expect(partly).toMatchObject({ removed: 1, kept: 1, keptRows: [{ key: '["R1"]', changedBy: 3 }] });
        await store.undoBatch(3, "CD", later);
        expect(await raw(store)).toEqual({ R1: 11, R2: 20, R3: 30 });
        await store.undoBatch(2, "CD", later);
        await store.undoBatch(1, "CD", later);
        expect(await raw(store)).toEqual({});
        await expect(store.undoBatch(1, "CD", later)).rejects.toMatchObject({ code: "nothing-to-undo" });
        await expect(store.undoBatch(77, "CD", later)).rejects.toMatchObject({ code: "no-such-batch" });
        // Taken back and dropped again: new, as if it had never been there.
        expect((await store.storeBatch(runDrop(first))).counts).toMatchObject({ new: 2, unchanged: 0 });
      }));

    test("keeps mappings, words and answers; an answer about a row taken out is stale", () =>
      withStore(async (store) => {
        await store.storeBatch(runDrop(first));
        await store.addAnswers([hoursOf("R1", 10, 9)], "CD", later);
        const [known, words] = [await store.rememberedMappings(), await store.words()];
        await store.undoBatch(1, "CD", later);
        expect([await store.rememberedMappings(), await store.words()]).toEqual([known, words]);
        expect((await store.loadShop()).stale).toHaveLength(1);
      }));
  });

  async function dyingStore() {
    const { death, options } = dyingOver(() => engine.emptyDatabase());
    return { ...(await engine.freshStore(options)), death };
  }

  test.each([
    ["rows written", false],
    ["journal written", true],
    ["before commit", true],
    ["after commit", true],
    ["before reply", true],
  ] as const)("cut off at %s are absent or whole after the next start", async (step, whole) => {
    for (const [name, decide] of [
      ["answers", (store: Store) => store.addAnswers([hoursOf("R2", null, 88)], "CD", later)],
      ["undo", (store: Store) => store.undoBatch(2, "CD", later)],
    ] as const) {
      const { store, folder, death } = await dyingStore();
      await store.storeBatch(runDrop(firstRuns));
      await store.storeBatch(runDrop(["R1,S1,2025-01-02,2025-01-09,97,planned", "R4,S1,2025-05-02,,5,planned"]));
      const before = await store.tableHashes();
      death.at = step;
      await expect(decide(store)).rejects.toThrow();
      await store.close();

      const again = await engine.reopen(folder);
      const after = await again.tableHashes();
      expect({ name, same: JSON.stringify(after) === JSON.stringify(before) }).toEqual({ name, same: !whole });
      if (!whole) await decide(again);
      expect(await hours(again)).toEqual(name === "answers" ? { R1: 97, R2: 88, R4: 5 } : { R1: 96.25, R2: null });
      const [hashes, shop] = [await again.tableHashes(), await again.loadShop()];
      await again.close();
      const rebuilt = await engine.freshStore({ folder });
      expect(await rebuilt.store.tableHashes()).toEqual(hashes);
      expect(await rebuilt.store.loadShop()).toEqual(shop);
      await rebuilt.store.close();
    }
  });

  test("an entry of a kind or version that a newer program wrote is refused by name, and nothing is touched", async () => {
    const { store, folder } = await engine.freshStore();
    await store.storeBatch(runDrop(firstRuns));
    await store.close();
    const log = join(folder, "journal", "log.jsonl");
    const whole = await readFile(log, "utf8");
    const last = JSON.parse(whole.trimEnd().split("\n").at(-1) ?? "") as { readonly hash: string };
    for (const body of [
      { kind: "decision", version: 1 },
      { kind: "undo", version: 9, batch: 2, undoes: 1 },
      { kind: "constructor" },
    ]) {
      const entry = JSON.stringify({ sequence: 3, previous: last.hash, body });
      const longer = `${whole}{"hash":"${sha256(entry)}","entry":${entry}}\n`;
      await writeFile(log, longer);
      await expect(engine.reopen(folder)).rejects.toMatchObject({
        code: "entry-not-known",
        facts: { sequence: 3, kind: body.kind },
      });
      expect(await readFile(log, "utf8")).toBe(longer);
    }
    await writeFile(log, whole);
    await (await engine.reopen(folder)).close();
  });

  test("tables that keep less than this version are made again from the journal, and that is said", async () => {
    const { store, folder } = await engine.freshStore();
    await store.storeBatch(buildDrop(["B1,S1,2025-01-01,yes,1200,1"]));
    await store.storeBatch(buildDrop(["B1,S1,2025-01-01,yes,1300,1"]));
    const hashes = await store.tableHashes();
    await store.close();
    const database = await engine.keptDatabase();
    await database.query("update store_state set keeps = 1");
    await database.query("delete from row_history");
    const again = await engine.reopen(folder);
    expect(again.opening.map(({ code }) => code)).toEqual(["made-again", "caught-up"]);
    expect(await again.tableHashes()).toEqual(hashes);
    expect(await again.previewUndo(2)).toMatchObject({ restored: 1, removed: 0 });
    await again.close();
  });
});
