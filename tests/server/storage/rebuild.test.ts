import { existsSync } from "node:fs";
import { readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { openEmbedded } from "../../../server/storage/embeddedDatabase.ts";
import { openStore } from "../../../server/storage/openStore.ts";
import { type RebuildOptions, rebuildStore } from "../../../server/storage/rebuildStore.ts";
import { openServer } from "../../../server/storage/serverDatabase.ts";
import type { Database } from "../../../server/storage/sql.ts";
import type { BatchInput } from "../../../server/storage/store.ts";
import { copyEmptyData } from "../../support/postgresFolder.ts";
import { buildDrop, buildMapping, drop, firstRuns, fittedMapping, runDrop, runMapping } from "./support/drops.ts";
import { type Engine, engines, type Place, startEngine } from "./support/engines.ts";

/** Starts of the embedded engine take a second each, and several where the machine is busy. */
const slow = 180_000;
const rebuild = (options: RebuildOptions) => rebuildStore({ emptyData: copyEmptyData, ...options });

describe.each(engines)("rebuilding the %s store", (kind) => {
  let engine: Engine;
  beforeAll(async () => {
    engine = await startEngine(kind);
  });
  afterAll(() => engine.stop());

  const filled = async (): Promise<Place> => {
    const place = await engine.freshPlace();
    const store = await openStore(place);
    await store.storeBatch(buildDrop(["B1,S1,2025-01-01,yes,1200,1"]));
    await store.storeBatch(runDrop(firstRuns));
    await store.close();
    return place;
  };

  test(
    "gives equal hashes for every table, takes the place of the old one and says so; a store found tampered with is not replaced unasked",
    async () => {
      const place = await filled();
      const report = await rebuild(place);
      expect(report).toMatchObject({
        batches: 2,
        entries: 3,
        equal: true,
        swapped: true,
        differing: [],
        unreadable: null,
      });
      expect(report.tables).toHaveLength(23);
      expect(report.tables.every(({ before, after }) => before === after && after.length === 64)).toBe(true);
      if (kind === "embedded") expect(existsSync(join(place.folder, "data.aside-1", "PG_VERSION"))).toBe(true);

      let database: Database | null = null;
      const store = await openStore({
        ...place,
        openDatabase: async () => {
          database =
            place.databaseUrl === undefined
              ? await openEmbedded(join(place.folder, "data"))
              : await openServer(place.databaseUrl);
          return database;
        },
      });
      expect(store.opening).toEqual([]);
      await expect(rebuild(place)).rejects.toMatchObject({ code: "folder-in-use" });
      // One value changed behind the program's back.
      const behind = database as Database | null;
      await behind?.query(`update runs set hours = 96.5 where key = '["R1"]'`);
      await store.close();

      const refused = await rebuild(place);
      expect(refused).toMatchObject({ equal: false, swapped: false });
      expect(refused.tables.filter(({ before, after }) => before !== after).map(({ table }) => table)).toEqual([
        "runs",
      ]);
      const replaced = await rebuild({ ...place, replace: true });
      expect(replaced).toMatchObject({ equal: false, swapped: true });
      // The tables in use now are those of before the tampering.
      expect(replaced.tables.map(({ after }) => after)).toEqual(report.tables.map(({ after }) => after));
    },
    slow,
  );

  test("is refused where bytes are missing or altered, and the old store stays", async () => {
    const { store, folder } = await engine.freshStore();
    await store.storeBatch(runDrop(firstRuns));
    await store.close();
    const log = await readFile(join(folder, "journal", "log.jsonl"), "utf8");
    const sha = /"file":"runs.csv","sha256":"([0-9a-f]{64})"/.exec(log)?.[1] ?? "";
    const path = join(folder, "journal", "files", sha);
    await writeFile(path, "Run,Serial\n");
    await expect(rebuild({ folder })).rejects.toMatchObject({
      code: "journal-file-damaged",
      facts: { file: "runs.csv" },
    });
    await rm(path);
    await expect(rebuild({ folder })).rejects.toMatchObject({
      code: "journal-file-missing",
      facts: { file: "runs.csv" },
    });
    const again = await engine.reopen(folder);
    expect(await again.batches()).toHaveLength(1);
    await again.close();
  });

  test(
    "any sequence of small drops replays to the same table hashes",
    async () => {
      await fc.assert(
        fc.asyncProperty(fc.array(batches, { minLength: 1, maxLength: 6 }), async (drops) => {
          const { store, folder } = await engine.freshStore();
          for (const each of drops) {
            const preview = await store.compareBatch(each);
            const { counts } = await store.storeBatch(each);
            expect(preview.counts).toEqual(counts);
            expect(counts.new + counts.unchanged + counts.changed + counts.setAside).toBe(counts.lines);
          }
          const [hashes, loaded] = [await store.tableHashes(), await store.loadRecords()];
          await store.close();
          const again = await engine.freshStore({ folder });
          expect(again.store.opening.map(({ code }) => code)).toEqual(["caught-up"]);
          expect(await again.store.tableHashes()).toEqual(hashes);
          expect(await again.store.loadRecords()).toEqual(loaded);
          await again.store.close();
        }),
        { numRuns: 8, seed: 20_260_105 },
      );
    },
    slow,
  );
});

test("an unreadable data folder is what rebuilding is for", async () => {
  const engine = await startEngine("embedded");
  const place = await engine.freshPlace();
  const store = await openStore(place);
  await store.storeBatch(runDrop(firstRuns));
  const loaded = await store.loadRecords();
  await store.close();
  await writeFile(join(place.folder, "data", "global", "pg_control"), "");
  await expect(openStore(place)).rejects.toMatchObject({
    code: "store-unreadable",
    message: expect.stringContaining("npm run afterrun -- rebuild"),
  });
  const report = await rebuild(place);
  expect(report).toMatchObject({ equal: null, swapped: true, batches: 1 });
  expect(report.unreadable).not.toBeNull();
  const again = await openStore(place);
  expect(await again.loadRecords()).toEqual(loaded);
  await again.close();
  await engine.stop();
});

const oneOf = (...texts: readonly string[]) => fc.constantFrom(...texts);
const line = (...cells: readonly fc.Arbitrary<string>[]) => fc.tuple(...cells).map((parts) => parts.join(","));
const keys = (prefix: string) => oneOf(...[1, 2, 3, 4].map((number) => `${prefix}${number}`));
const runLine = line(
  keys("R"),
  keys("S"),
  oneOf("2025-01-02", "2025-13-02", "02/01/2025", ""),
  oneOf("2025-01-09", ""),
  oneOf("96.25", "1e3", "about 90", "-4", ""),
  oneOf("planned", "tool failed", "odd", ""),
);
const buildLine = line(
  keys("B"),
  keys("S"),
  oneOf("2025-01-01", "2025-06-01", ""),
  oneOf("yes", "no", ""),
  oneOf("1200", "12.5 kN·m", ""),
  oneOf("1", "2.5", ""),
);
const fittedLine = line(keys("B"), oneOf("main seal", "J1"), oneOf("yes", "no", ""), oneOf("FKM", "HNBR", '"a ""b"""'));
const lines = (each: fc.Arbitrary<string>) => fc.array(each, { maxLength: 6 });
const headed = (header: string, rows: readonly string[]) => [header, ...rows, ""].join("\n");

/** One drop: up to three sheets, with or without the answer on seals, sometimes a confirmed row. */
const batches: fc.Arbitrary<BatchInput> = fc
  .record({
    runs: lines(runLine),
    builds: lines(buildLine),
    fitted: lines(fittedLine),
    answered: fc.boolean(),
    status: oneOf("in shop", "out", ""),
  })
  .map(({ runs, builds, fitted, answered, status }) => {
    const addRows = buildMapping.addRows.map((added) => ({ ...added, answered }));
    return drop(
      [
        { file: "runs.csv", text: headed("Run,Serial,Out,In,Hours,Pulled", runs), mapping: runMapping },
        {
          file: "builds.csv",
          text: headed("Build,Serial,Done,New threads,Torque,Cycles", builds),
          mapping: { ...buildMapping, addRows },
        },
        { file: "fitted.csv", text: headed("Build,Item,Renewed,Elastomer", fitted), mapping: fittedMapping },
      ],
      {
        setup:
          status === "" ? [] : [{ table: "tools", values: { serial: "S1", tool_type: "T", status }, why: "confirmed" }],
      },
    );
  });
