import { execFile } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type FieldDescriptor, tableNames } from "../../../analysis/index.ts";
import { readBackup } from "../../../server/storage/backup/readBackup.ts";
import { restoreBackup } from "../../../server/storage/backup/restoreBackup.ts";
import { writeBackup } from "../../../server/storage/backup/writeBackup.ts";
import { exportLine, importCell } from "../../../server/storage/export/exportCells.ts";
import { isExport, readExport } from "../../../server/storage/export/readExport.ts";
import { exportedRows } from "../../../server/storage/export/readExportedTable.ts";
import { writeExport } from "../../../server/storage/export/writeExport.ts";
import { moveStore } from "../../../server/storage/moveStore.ts";
import { openStore } from "../../../server/storage/openStore.ts";
import type { Store } from "../../../server/storage/store.ts";
import { copyEmptyData } from "../../support/postgresFolder.ts";
import { quickFolder } from "../../support/quickFolder.ts";
import { buildDrop, firstRuns, runDrop } from "./support/drops.ts";
import { type Engine, engines, startEngine } from "./support/engines.ts";

const at = "2026-01-06T08:00:00.000Z";
let parent: string;
let count = 0;
beforeAll(async () => {
  parent = await mkdtemp(join(quickFolder(), "afterrun-portable-"));
});
afterAll(() => rm(parent, { recursive: true, force: true }));
const fresh = (name: string) => join(parent, `${name}-${++count}`);

/** Texts that spreadsheets, CSV readers and JavaScript have tripped over. */
const odd = [
  "=1+1",
  "'quoted",
  "-5",
  "@x",
  "\t=x",
  ' a "b", c\r\nd ',
  "",
  "__proto__",
  "NaN",
  "n/a",
  "-",
  "ü €",
  "'=2",
];

/** One row of each table of plans, with every kind of value they hold. */
const planRows = [
  {
    table: "planned_runs" as const,
    values: { serial: "S1", start_on: "2026-02-01", hours: 42.5, max_temperature_C: 107 + 2 / 9, note: "=late" },
    why: "confirmed",
  },
  { table: "stock" as const, values: { kit: "K-1", on_hand: 0, lead_time_d: 35 }, why: "confirmed" },
  {
    table: "costs" as const,
    values: { what: "planned redress", tool_type: "all", dated_on: "2025-01-01", amount: 6000.1, currency: "EUR" },
    why: "confirmed",
  },
  {
    table: "decisions" as const,
    values: { tool_type: "T", item: "whole tool", dated_on: "2025-01-01", statement: 'At "150 h", then.' },
    why: "confirmed",
  },
];

async function fill(store: Store): Promise<void> {
  await store.storeBatch(buildDrop(["B1,S1,2025-01-01,yes,1200.125,1", "B2,S2,2025-01-02,no,,2"]));
  await store.storeBatch(
    runDrop(firstRuns, {
      setup: [
        ...odd.map((text, index) => ({
          table: "findings" as const,
          values: { teardown: `T${index}`, item: text, condition: "sound", note: text, measured: index / 3 },
          why: "confirmed",
        })),
        {
          table: "tool_items",
          values: { tool_type: "T", item: "J1", kind: "joint", aliases: odd },
          why: "confirmed",
        },
        ...planRows,
      ],
    }),
  );
  const answer = { table: "runs", key: '["R1"]', column: "hours", rule: null, why: "=why" } as const;
  await store.addAnswers([{ ...answer, was: 96.25, becomes: 90, verdict: "correct" }], "CD", at);
  await store.addAnswers([{ ...answer, was: 90, becomes: null, verdict: "accept" }], "EF", at);
  await store.addAnswers([{ ...answer, key: '["R2"]', was: null, becomes: 7, verdict: "correct" }], "CD", at);
  await store.storeBatch(runDrop(["R2,S2,2025-01-03,2025-01-10,8,planned"]));
  await store.storeBatch(runDrop(["R9,S2,2025-05-03,2025-05-10,8,planned"]));
  await store.undoBatch(4, "CD", at);
}

describe("a cell of an export", () => {
  test("comes back as it was, whatever the value, and is never run as a formula", () => {
    const value: Record<FieldDescriptor["type"], fc.Arbitrary<unknown>> = {
      string: fc.oneof(
        fc.constantFrom(...odd),
        fc.string({ unit: "binary" }).filter((text) => !text.includes("\0")),
      ),
      number: fc.double({ noNaN: true, noDefaultInfinity: true }).map((each) => (each === 0 ? 0 : each)),
      integer: fc.maxSafeInteger(),
      boolean: fc.boolean(),
      date: fc
        .date({ min: new Date("1900-01-01"), max: new Date("2100-01-01"), noInvalidDate: true })
        .map((day) => day.toISOString().slice(0, 10)),
      array: fc.array(fc.constantFrom(...odd)),
    };
    for (const type of ["string", "number", "integer", "boolean", "date", "array"] as const) {
      const field = { name: "f", type, title: "F" };
      fc.assert(
        fc.property(fc.array(fc.option(value[type]), { minLength: 1, maxLength: 8 }), (values) => {
          const text = exportLine(["a"]) + values.map((each) => exportLine([each, 1])).join("");
          const { rows } = exportedRows(new TextEncoder().encode(text), "f.csv");
          expect(rows.map(({ cells }) => importCell(cells[0] ?? null, field))).toEqual(
            values.map((each) => ({ value: each })),
          );
          if (type === "string") for (const { cells } of rows) expect(cells[0] ?? "").not.toMatch(/^[=+\-@\t\r\n|]/);
        }),
        { seed: 20_260_106, numRuns: 60 },
      );
    }
  });
});

describe.each(engines)("everything in the %s store", (kind) => {
  let engine: Engine;
  beforeAll(async () => {
    engine = await startEngine(kind);
  });
  afterAll(() => engine.stop());

  test("goes out as CSV with a descriptor and comes back in with the same values, decisions and statements", async () => {
    const { store } = await engine.freshStore();
    await fill(store);
    const [out, hashes, shop] = [fresh("export"), await store.valueHashes(), await store.loadShop()];
    const statements = await store.statements();
    expect(shop.stale).toHaveLength(1);
    await writeExport(store, out, at);
    await expect(writeExport(store, out, at)).rejects.toMatchObject({ code: "folder-not-empty" });
    await store.close();

    const descriptor = JSON.parse(await readFile(join(out, "datapackage.json"), "utf8"));
    for (const resource of descriptor.resources) {
      // Every file has the columns that its descriptor lists, in order.
      const { headers, rows } = exportedRows(new Uint8Array(await readFile(join(out, resource.path))), resource.path);
      expect(headers).toEqual(resource.schema.fields.map((field: { name: string }) => field.name));
      expect(rows).toHaveLength(resource.rowCount);
    }
    const text = await readFile(join(out, "findings.csv"), "utf8");
    expect(text).not.toMatch(/(^|,|\n)"?[=+@\t|]/);

    expect(await isExport(out)).toBe(true);
    const { batch, answers, changed, dataHash } = await readExport(out);
    expect([changed, dataHash]).toEqual([[], shop.dataHash]);
    const { store: other, folder } = await engine.freshStore();
    const stored = await other.storeBatch({ ...batch, who: "GH", when: at });
    expect(stored.counts).toMatchObject({ changed: 0, unchanged: 0, setAside: 0 });
    expect(await other.bringAnswers(answers, "GH", at)).toBe(3);
    expect(await other.bringAnswers(answers, "GH", at)).toBe(0);
    const same = async (each: Store) => {
      expect(await each.valueHashes()).toEqual(hashes);
      const { records, raw, answers: kept, stale, dataHash: hash } = await each.loadShop();
      expect({ records, raw, kept, stale, hash }).toEqual({
        records: shop.records,
        raw: shop.raw,
        kept: shop.answers,
        stale: shop.stale,
        hash: shop.dataHash,
      });
      expect(await each.statements()).toEqual(statements);
    };
    await same(other);
    const [row] = await other.rowsByRef([{ table: "joints", key: '["B1","J1"]' }]);
    expect(row?.asWritten).toMatchObject({ Torque: "1200.125" });
    // The journal reads an export as it reads any drop.
    const all = await other.tableHashes();
    await other.close();
    const again = await engine.freshStore({ folder });
    expect(again.store.opening.map(({ code }) => code)).toEqual(["caught-up"]);
    expect(await again.store.tableHashes()).toEqual(all);
    await same(again.store);
    await again.store.close();
  });

  test("is backed up in one file while it is open, restored with equal hashes, and opens in any archive program", async () => {
    const { store } = await engine.freshStore();
    await fill(store);
    const file = join(fresh("backup"), "shop.tar.gz");
    const manifest = await writeBackup(store.journalFolder, file, at);
    const [hashes, { dataHash }] = [await store.tableHashes(), await store.loadRecords()];
    expect(manifest.dataHash).toBe(dataHash);
    await store.close();
    const folder = fresh("restored");
    expect(await restoreBackup(file, folder)).toEqual(manifest);
    const restored = await engine.freshStore({ folder });
    expect(await restored.store.tableHashes()).toEqual(hashes);
    await restored.store.close();
    await expect(restoreBackup(file, folder)).rejects.toMatchObject({ code: "folder-not-empty" });

    const { stdout } = await promisify(execFile)("tar", ["tzf", file]);
    expect(stdout.trim().split("\n").sort()).toEqual(
      ["manifest.json", "journal/log.jsonl", ...manifest.files.map(({ sha256 }) => `journal/files/${sha256}`)].sort(),
    );
  });
});

describe("what is taken along", () => {
  let engine: Engine;
  beforeAll(async () => {
    engine = await startEngine("server");
  });
  afterAll(() => engine.stop());

  test("a line of an export that somebody changed so that it no longer reads is set aside with why", async () => {
    const { store } = await engine.freshStore();
    await store.storeBatch(runDrop(firstRuns));
    const out = fresh("export");
    await writeExport(store, out, at);
    const path = join(out, "runs.csv");
    await writeFile(path, (await readFile(path, "utf8")).replace("2025-01-02", "soon").replace("96.25", "many"));
    const { batch, changed } = await readExport(out);
    expect(changed).toEqual(["runs.csv"]);
    const runs = batch.sheets.find(({ mapped }) => mapped.file === "runs.csv")?.mapped;
    expect(runs?.lines).toHaveLength(1);
    expect(runs?.setAside).toMatchObject([
      {
        line: 2,
        problems: [
          { code: "not-a-date", value: "soon" },
          { code: "not-a-number", value: "many" },
        ],
      },
    ]);
    await store.close();
  });

  test("a backup with any part altered, cut off or missing is refused, and nothing is left in the folder", async () => {
    const { store } = await engine.freshStore();
    await store.storeBatch(runDrop(firstRuns));
    await store.addAnswers(
      [
        {
          table: "runs",
          key: '["R1"]',
          column: "hours",
          was: 96.25,
          becomes: 90,
          verdict: "correct",
          rule: null,
          why: "w",
        },
      ],
      "CD",
      at,
    );
    const file = fresh("backup");
    await writeBackup(store.journalFolder, file, at);
    await store.close();
    const whole = await readFile(file);
    const bad = `${file}.bad`;
    const folder = fresh("restored");
    const refused = async (bytes: Uint8Array) => {
      await writeFile(bad, bytes);
      await expect(restoreBackup(bad, folder)).rejects.toMatchObject({ code: "backup-damaged" });
      expect((await readdir(folder)).filter((name) => name !== "lock")).toEqual([]);
    };
    // Byte 4 to 9 of a gzip file hold a time and flags that mean nothing here.
    for (let place = 10; place < whole.length; place += 97) {
      const damaged = Buffer.from(whole);
      damaged[place] = (damaged[place] ?? 0) ^ 0x10;
      await refused(damaged);
    }
    for (const length of [0, 5, 200, whole.length - 1]) await refused(whole.subarray(0, length));
    await refused(Buffer.from("a letter, not a backup"));
    await expect(readBackup(`${file}.none`)).rejects.toMatchObject({
      message: expect.stringContaining("no such file"),
    });
    await restoreBackup(file, folder);
    expect(existsSync(join(folder, "journal", "log.jsonl"))).toBe(true);
  });

  test("an embedded store moves to a server, grows there, and moves back and into another folder; all tables equal", async () => {
    const { folder, databaseUrl = "" } = await engine.freshPlace();
    await copyEmptyData(join(folder, "data"));
    const store = await openStore({ folder });
    await fill(store);
    await expect(moveStore({ from: { folder }, to: databaseUrl })).rejects.toMatchObject({ code: "folder-in-use" });
    await store.close();
    const there = await moveStore({ from: { folder }, to: databaseUrl });
    expect(there).toMatchObject({ batches: 5, to: { folder, databaseUrl } });
    expect(there.tables.map(({ table }) => table)).toEqual(
      expect.arrayContaining([...tableNames, "answers", "row_history"]),
    );

    const onServer = await openStore({ folder, databaseUrl });
    await onServer.storeBatch(buildDrop(["B7,S1,2025-07-01,yes,1,1"]));
    await onServer.close();
    const from = { folder, databaseUrl };
    await expect(moveStore({ from, to: databaseUrl })).rejects.toMatchObject({ code: "bad-batch" });
    expect(await moveStore({ from, to: folder })).toMatchObject({ batches: 6, to: { folder } });

    const elsewhere = fresh("moved");
    await copyEmptyData(join(elsewhere, "data"));
    expect(await moveStore({ from, to: elsewhere })).toMatchObject({ batches: 6, to: { folder: elsewhere } });
    // A folder that holds another journal is left alone.
    const other = await engine.freshStore();
    await other.store.storeBatch(runDrop(firstRuns));
    await other.store.close();
    await expect(moveStore({ from, to: other.folder })).rejects.toMatchObject({ code: "journal-of-another-store" });
  }, 120_000);
});
