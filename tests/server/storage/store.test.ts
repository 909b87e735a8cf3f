import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { tableNames } from "../../../analysis/index.ts";
import { openStore } from "../../../server/storage/openStore.ts";
import { dataHashOf, loadTables } from "../../../server/storage/readTables.ts";
import type { Store } from "../../../server/storage/store.ts";
import {
  buildDrop,
  buildMapping,
  drop,
  firstRuns,
  fittedMapping,
  runDrop,
  runMapping,
  runSheet,
  words,
} from "./support/drops.ts";
import { type Engine, engines, startEngine } from "./support/engines.ts";

describe.each(engines)("the %s store", (kind) => {
  let engine: Engine;
  beforeAll(async () => {
    engine = await startEngine(kind);
  });
  afterAll(async () => {
    await engine.stop();
  });

  const withStore = async (work: (store: Store, folder: string) => Promise<void>) => {
    const { store, folder } = await engine.freshStore();
    try {
      await work(store, folder);
    } finally {
      await store.close();
    }
  };

  test("starts empty, and says so", () =>
    withStore(async (store) => {
      expect(store.kind).toBe(kind);
      expect(store.opening).toEqual([]);
      expect(Object.values(await store.rowCounts())).toEqual(Array(tableNames.length).fill(0));
      expect(await store.batches()).toEqual([]);
      expect(await store.words()).toEqual({ version: 0, vocabularies: {} });
      expect(await store.rememberedMappings()).toEqual([]);
    }));

  test("gives back every value in its type, with its cells, place and batch", () =>
    withStore(async (store) => {
      const stored = await store.storeBatch(
        buildDrop(["B1,S1,2025-01-01,yes,1234.5,7"], {
          setup: [
            {
              table: "tool_items",
              values: { tool_type: "T", item: "J1", kind: "joint", position: 1, aliases: ["pin", 'Ω "x"'] },
              why: "confirmed",
            },
          ],
        }),
      );
      expect(stored.batch).toBe(1);
      const { records } = await store.loadRecords();
      expect(records.joints).toEqual([
        expect.objectContaining({
          redress: "B1",
          joint: "J1",
          new_thread: true,
          final_torque_Nm: 1234.5,
          make_break_cycles: 7,
          compound: null,
          calibrated_on: null,
        }),
      ]);
      expect(records.redresses?.[0]?.done_on).toBe("2025-01-01");
      expect(records.tool_items?.[0]?.aliases).toEqual(["pin", 'Ω "x"']);
      const [row] = await store.rowsByRef([{ table: "joints", key: '["B1","J1"]' }]);
      expect(row).toMatchObject({ table: "joints", origin: { file: "builds.csv", sheet: null, line: 2 }, batch: 1 });
      expect(Object.entries(row?.asWritten ?? {})).toEqual([
        ["Build", "B1"],
        ["Serial", "S1"],
        ["Done", "2025-01-01"],
        ["New threads", "yes"],
        ["Torque", "1234.5"],
        ["Cycles", "7"],
      ]);
      const [item] = await store.rowsByRef([{ table: "tool_items", key: '["T","J1"]' }]);
      expect(item?.origin).toEqual({ file: "", sheet: null, line: 0 });
    }));

  test("a table that stores did not have from the start names the data only while it holds a row", () =>
    withStore(async (store) => {
      const before = await store.storeBatch(runDrop(firstRuns));
      const tables = await (await engine.keptDatabase()).transaction((sql) => loadTables(sql));
      const old = new Map(
        [...tables].filter(([name]) => !["planned_runs", "stock", "costs", "decisions"].includes(name)),
      );
      expect(before.dataHash).toBe(dataHashOf({ tables: old, answers: [] }, [runMapping]));

      const cost = { what: "rig day", tool_type: "all", dated_on: "2025-01-01", amount: 12.5, currency: "EUR" };
      const setup = [{ table: "costs" as const, values: cost, why: "confirmed" }];
      const priced = await store.storeBatch(runDrop(firstRuns, { setup }));
      expect(priced.dataHash).not.toBe(before.dataHash);
      expect((await store.loadRecords()).records.costs).toEqual([{ ...cost, note: null }]);
      await store.undoBatch(priced.batch, "NN", "2026-01-06T08:00:00.000Z");
      expect((await store.batches()).at(-1)?.dataHash).toBe(before.dataHash);
    }));

  test("answers for rows in the order asked and leaves out those it does not have", () =>
    withStore(async (store) => {
      await store.storeBatch(runDrop(firstRuns));
      const rows = await store.rowsByRef([
        { table: "runs", key: '["R2"]' },
        { table: "runs", key: '["none"]' },
        { table: "runs", key: '["R1"]' },
      ]);
      expect(rows.map(({ key }) => key)).toEqual(['["R2"]', '["R1"]']);
    }));

  test("while a batch or an undo is being written, rows, history, batches and previews are told as they were before it", async () => {
    let store: Store | null = null;
    const seen: unknown[] = [];
    const refs = ["R1", "R2", "R4"].map((run) => ({ table: "runs" as const, key: JSON.stringify([run]) }));
    const look = async (from: Store) => [
      (await from.rowsByRef(refs)).map(({ key, values, asWritten, batch }) => [
        key,
        values.hours,
        asWritten.Hours,
        batch,
      ]),
      (await from.cellHistory(refs[0] ?? { table: "runs", key: "" }, "hours")).length,
      (await from.batches()).length,
      (await from.compareBatch(edited)).counts,
      (await from.loadRecords()).records.runs?.length,
    ];
    const edited = runDrop(["R1,S1,2025-01-02,2025-01-09,90,planned", "R4,S1,2025-03-05,2025-03-06,7,planned"]);
    const { store: opened } = await engine.freshStore({
      onStep: async (step) => {
        if ((step === "rows written" || step === "before commit") && store !== null) seen.push(await look(store));
      },
    });
    try {
      await opened.storeBatch(runDrop(firstRuns));
      const before = await look(opened);
      store = opened;
      await opened.storeBatch(edited);
      expect(seen).toEqual([before, before]);
      const between = await look(opened);
      expect(between).not.toEqual(before);
      seen.length = 0;
      await opened.undoBatch(2, "NN", "2026-01-06T08:00:00.000Z");
      expect(seen).toEqual([between, between]);
      // A key that is no text could not be asked of the database, and would end somebody else's transaction.
      expect(
        await opened.rowsByRef([
          { table: "runs", key: '["R\u0000"]' },
          { table: "runs", key: "\0" },
        ]),
      ).toEqual([]);
    } finally {
      store = null;
      await opened.close();
    }
  });

  test("a line that cannot be stored is set aside as written, with why; all lines are accounted for", () =>
    withStore(async (store) => {
      const { counts, files } = await store.storeBatch(runDrop(firstRuns));
      expect(counts).toEqual({ lines: 3, new: 2, unchanged: 0, changed: 0, setAside: 1 });
      expect(files).toEqual([
        expect.objectContaining({ file: "runs.csv", bytes: runSheet(...firstRuns).length, counts }),
      ]);
      const aside = await store.setAside(1);
      expect(aside).toHaveLength(1);
      expect(aside[0]).toMatchObject({
        origin: { file: "runs.csv", sheet: null, line: 4 },
        cells: ["R3", "S1", "2025-02-30", "2025-03-04", "50", "planned"],
        problems: [{ code: "impossible-date", severity: "error", value: "2025-02-30" }],
      });
      expect(await store.problems(1)).toHaveLength(aside[0]?.problems.length ?? 0);
    }));

  test("a sheet dropped again, grown and edited: each line is new, unchanged or changed, with the old cell and the new", () =>
    withStore(async (store) => {
      await store.storeBatch(runDrop(firstRuns));
      const again = runDrop([
        "R1,S1,2025-01-02,2025-01-09,96.25,planned",
        "R2,S2,2025-01-03,2025-01-10,81,tool failed",
        "R3,S1,2025-02-28,2025-03-04,50,planned",
        "R4,S1,2025-03-05,,,planned",
      ]);
      const before = await store.loadRecords();
      const preview = await store.compareBatch(again);
      expect(await store.loadRecords()).toEqual(before);
      const stored = await store.storeBatch(again);
      expect(stored.counts).toEqual({ lines: 4, new: 2, unchanged: 1, changed: 1, setAside: 0 });
      expect(preview.counts).toEqual(stored.counts);
      expect(preview.sheets[0]?.changes).toEqual([
        {
          row: { table: "runs", key: '["R2"]' },
          field: "hours",
          was: null,
          becomes: 81,
          origin: { file: "runs.csv", sheet: null, line: 3 },
        },
      ]);
      const rows = await store.rowsByRef(["R1", "R2"].map((run) => ({ table: "runs", key: JSON.stringify([run]) })));
      expect(rows.map(({ batch }) => batch)).toEqual([1, 2]);
    }));

  test("the same drop again changes nothing but the list of batches", () =>
    withStore(async (store) => {
      const first = await store.storeBatch(runDrop(firstRuns));
      const second = await store.storeBatch(runDrop(firstRuns, { when: "2026-01-06T08:00:00Z" }));
      expect(second).toMatchObject({ batch: 2, storedAt: "2026-01-06T08:00:00.000Z", dataHash: first.dataHash });
      expect(second.counts).toEqual({ lines: 3, new: 0, unchanged: 2, changed: 0, setAside: 1 });
      expect(await store.batches()).toEqual([first, second]);
      expect((await store.loadRecords()).dataHash).toBe(first.dataHash);
    }));

  test("an edited cell that no column maps leaves the value unchanged and shows the newer cell", () =>
    withStore(async (store) => {
      const noted = (note: string) =>
        drop([
          {
            file: "runs.csv",
            text: `Run,Serial,Out,In,Hours,Pulled,Note\n${firstRuns[0]},${note}\n`,
            mapping: runMapping,
          },
        ]);
      const first = await store.storeBatch(noted("dry"));
      const second = await store.storeBatch(noted("wet"));
      expect(second.counts.unchanged).toBe(1);
      expect(second.dataHash).toBe(first.dataHash);
      const [row] = await store.rowsByRef([{ table: "runs", key: '["R1"]' }]);
      expect(row?.asWritten.Note).toBe("wet");
    }));

  test("a cell emptied in the sheet is emptied in the store", () =>
    withStore(async (store) => {
      await store.storeBatch(runDrop(["R1,S1,2025-01-02,2025-01-09,96.25,planned"]));
      const { counts } = await store.storeBatch(runDrop(["R1,S1,2025-01-02,2025-01-09,,planned"]));
      expect(counts.changed).toBe(1);
      expect((await store.loadRecords()).records.runs?.[0]?.hours).toBeNull();
    }));

  test("a sheet without a column for a field leaves what another sheet said of it", () =>
    withStore(async (store) => {
      await store.storeBatch(runDrop(["R1,S1,2025-01-02,2025-01-09,96.25,tool failed"]));
      const { hours: _hours, pulled_because: _why, ...columns } = runMapping.tables[0]?.columns ?? {};
      const mapping = {
        ...runMapping,
        fingerprint: "run|serial|out|in",
        tables: [{ table: "runs" as const, columns }],
      };
      const { counts } = await store.storeBatch(
        drop([{ file: "list.csv", text: "Run,Serial,Out,In\nR1,S1,2025-01-02,2025-01-09\n", mapping }]),
      );
      expect(counts).toMatchObject({ unchanged: 1, changed: 0 });
      expect((await store.loadRecords()).records.runs?.[0]).toMatchObject({
        hours: 96.25,
        pulled_because: "tool failure",
      });
    }));

  test("a row that follows from an answer gives way to one that a sheet writes down, and never takes its place", () =>
    withStore(async (store) => {
      const builds = buildDrop(["B1,S1,2025-01-01,yes,1200,1"]);
      await store.storeBatch(builds);
      expect((await store.loadRecords()).records.fitted_items).toMatchObject([{ item: "main seal", renewed: true }]);
      const fitted = "Build,Item,Renewed,Elastomer\nB1,main seal,no,FKM\n";
      const written = await store.storeBatch(drop([{ file: "fitted.csv", text: fitted, mapping: fittedMapping }]));
      expect(written.counts.changed).toBe(1);
      const again = await store.storeBatch(builds);
      expect(again.counts).toMatchObject({ unchanged: 1, changed: 0 });
      expect(again.dataHash).toBe(written.dataHash);
      expect((await store.loadRecords()).records.fitted_items).toMatchObject([{ renewed: false, elastomer: "FKM" }]);
    }));

  test("the data hash does not depend on the order of drops, and does depend on every value and answer", async () => {
    const builds = buildDrop(["B1,S1,2025-01-01,yes,1200,1"]);
    const runs = runDrop(firstRuns);
    const hashes = new Map<string, string>();
    const hashOf = async (name: string, batches: readonly (typeof runs)[]) =>
      await withStore(async (store) => {
        for (const batch of batches) await store.storeBatch(batch);
        hashes.set(name, (await store.loadRecords()).dataHash);
      });
    await hashOf("builds, runs", [builds, runs]);
    await hashOf("runs, builds", [runs, builds]);
    await hashOf("another torque", [buildDrop(["B1,S1,2025-01-01,yes,1200.0000000001,1"]), runs]);
    const unanswered = {
      ...buildMapping,
      addRows: buildMapping.addRows.map((added) => ({ ...added, answered: false })),
    };
    const text = new TextDecoder().decode(builds.files[0]?.bytes);
    await hashOf("unanswered", [drop([{ file: "builds.csv", text, mapping: unanswered }]), runs]);
    expect(hashes.get("runs, builds")).toBe(hashes.get("builds, runs"));
    expect(new Set(hashes.values()).size).toBe(3);
  });

  test("questions nobody answered are open; statements are those of the answered ones, newest mapping first and only", () =>
    withStore(async (store) => {
      const text = "Build,Serial,Done,New threads,Torque,Cycles\nB1,S1,2025-01-01,yes,1200,1\n";
      const open = { ...buildMapping, addRows: buildMapping.addRows.map((added) => ({ ...added, answered: false })) };
      await store.storeBatch(drop([{ file: "builds.csv", text, mapping: open }]));
      expect(await store.openQuestions()).toEqual(["Does a build renew the main seal?"]);
      expect(await store.statements()).toEqual([]);
      await store.storeBatch(drop([{ file: "builds.csv", text, mapping: buildMapping }]));
      expect(await store.openQuestions()).toEqual([]);
      expect(await store.statements()).toEqual(["A build renews the main seal."]);
      expect((await store.rememberedMappings()).map(({ version }) => version)).toEqual([2]);
    }));

  test("mappings and words get a new version only when they change", () =>
    withStore(async (store) => {
      await store.storeBatch(runDrop(firstRuns));
      await store.storeBatch(runDrop(firstRuns));
      expect(await store.rememberedMappings()).toEqual([{ ...runMapping, version: 1 }]);
      expect((await store.words()).version).toBe(1);
      const more = { version: 1, vocabularies: { ...words.vocabularies, severity: { bad: 4 } } };
      await store.storeBatch(runDrop(firstRuns, { words: more }));
      expect(await store.words()).toEqual({ ...more, version: 2 });
    }));

  test("text that could trip a database or a script comes back as it was", () =>
    withStore(async (store) => {
      const serial = 'Robert\'); drop table runs;-- \\ "q" \u{1F527} \u2028 %s $1 é';
      const cell = `"${serial.replaceAll('"', '""')}"`;
      const text = `Run,Serial,Out,In,Hours,Pulled,__proto__,constructor\nR1,${cell},2025-01-02,,,planned,a,b\n`;
      await store.storeBatch(drop([{ file: "odd name's.csv", text, mapping: runMapping }]));
      const [row] = await store.rowsByRef([{ table: "runs", key: '["R1"]' }]);
      expect(row?.values.serial).toBe(serial.replace(/\s+/g, " "));
      expect(row?.asWritten.Serial).toBe(serial);
      expect(Object.entries(row?.asWritten ?? {}).slice(-2)).toEqual([
        ["__proto__", "a"],
        ["constructor", "b"],
      ]);
      expect(row?.origin.file).toBe("odd name's.csv");
    }));

  test("a row that the columns cannot hold is refused by name; nothing of its batch is stored or journaled", () =>
    withStore(async (store, folder) => {
      await store.storeBatch(runDrop(firstRuns));
      const log = await readFile(join(folder, "journal", "log.jsonl"));
      const hashes = await store.tableHashes();
      for (const [field, value] of [
        ["hours", Number.POSITIVE_INFINITY],
        ["vibration_class", 2 ** 60],
        ["out_on", "2025-02-30"],
        ["serial", "a\0b"],
        ["customer", "\ud800"],
      ] as const) {
        const good = runDrop(["R8,S1,2025-04-01,,,planned", "R9,S1,2025-05-01,,,planned"]);
        const sheets = good.sheets.map(({ mapped, mapping }) => ({
          mapping,
          mapped: {
            ...mapped,
            lines: mapped.lines.map((line) =>
              line.line === 3
                ? { ...line, rows: line.rows.map((row) => ({ ...row, values: { ...row.values, [field]: value } })) }
                : line,
            ),
          },
        }));
        await expect(store.storeBatch({ ...good, sheets })).rejects.toMatchObject({
          code: "row-not-storable",
          facts: { file: "runs.csv", line: 3, table: "runs", field },
          message: expect.stringContaining(`runs.csv, line 3: runs.${field}`),
        });
      }
      expect(await store.tableHashes()).toEqual(hashes);
      expect(await readFile(join(folder, "journal", "log.jsonl"))).toEqual(log);
      expect((await store.storeBatch(runDrop(["R8,S1,2025-04-01,,,planned"]))).batch).toBe(2);
    }));

  test("a drop that contradicts itself is refused", () =>
    withStore(async (store) => {
      const good = runDrop(firstRuns);
      await expect(store.storeBatch({ ...good, who: " " })).rejects.toMatchObject({ code: "bad-batch" });
      await expect(store.storeBatch({ ...good, when: "yesterday" })).rejects.toMatchObject({ code: "bad-batch" });
      await expect(store.storeBatch({ ...good, files: [] })).rejects.toMatchObject({ code: "bad-batch" });
      await expect(store.storeBatch({ ...good, files: [...good.files, ...good.files] })).rejects.toMatchObject({
        code: "bad-batch",
      });
      expect(await store.batches()).toEqual([]);
    }));

  test("drops stored at the same time are stored one after the other", () =>
    withStore(async (store) => {
      const stored = await Promise.all(
        [1, 2, 3, 4].map((run) => store.storeBatch(runDrop([`R${run},S1,2025-01-0${run},,,planned`]))),
      );
      expect(stored.map(({ batch }) => batch)).toEqual([1, 2, 3, 4]);
      expect((await store.rowCounts()).runs).toBe(4);
    }));

  test("what was stored is there after the next start", async () => {
    const place = await engine.freshPlace();
    const first = await openStore(place);
    await first.storeBatch(runDrop(firstRuns));
    const [hashes, loaded] = [await first.tableHashes(), await first.loadRecords()];
    await first.close();
    await expect(first.loadRecords()).rejects.toMatchObject({ code: "store-closed" });
    const second = await openStore(place);
    expect(second.opening).toEqual([]);
    expect(await second.tableHashes()).toEqual(hashes);
    expect(await second.loadRecords()).toEqual(loaded);
    await second.close();
  });

  test("a lost store is made again from the journal, to the same table hashes", async () => {
    const { store, folder } = await engine.freshStore();
    await store.storeBatch(buildDrop(["B1,S1,2025-01-01,yes,1200,1"]));
    await store.storeBatch(runDrop(firstRuns));
    const hashes = await store.tableHashes();
    await store.close();
    const { store: again } = await engine.freshStore({ folder });
    expect(again.opening.map(({ code }) => code)).toEqual(["caught-up"]);
    expect(await again.tableHashes()).toEqual(hashes);
    await again.close();
  });

  test("a journal that lost its last entry, or belongs to another store, is refused and nothing is changed", async () => {
    const other = await engine.freshStore();
    await other.store.storeBatch(runDrop(firstRuns));
    await other.store.close();
    const { store, folder } = await engine.freshStore();
    await store.storeBatch(runDrop(firstRuns));
    const hashes = await store.tableHashes();
    await store.close();
    const log = join(folder, "journal", "log.jsonl");
    const whole = await readFile(log, "utf8");
    const [first = "", second = ""] = whole.split("\n");
    const refusedAs = async (text: string, code: string) => {
      await writeFile(log, text);
      await expect(engine.reopen(folder)).rejects.toMatchObject({ code });
      expect(await readFile(log, "utf8")).toBe(text);
    };
    await refusedAs(`${first}\n`, "journal-behind-store");
    await refusedAs("", "journal-behind-store");
    // Cut in half, but the store knows that it was whole once.
    await refusedAs(`${first}\n${second.slice(0, 200)}`, "journal-damaged");
    await refusedAs(await readFile(join(other.folder, "journal", "log.jsonl"), "utf8"), "journal-of-another-store");
    await writeFile(log, whole);
    const again = await engine.reopen(folder);
    expect(again.opening).toEqual([]);
    expect(await again.tableHashes()).toEqual(hashes);
    await again.close();
  });
});
