import { existsSync } from "node:fs";
import { readdir, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { openStore } from "../../../server/storage/openStore.ts";
import type { StoreStep } from "../../../server/storage/store.ts";
import { startChild } from "./support/child.ts";
import { buildDrop } from "./support/drops.ts";
import { type Engine, engines, startEngine } from "./support/engines.ts";

/** The journal entry is the promise: from "journal written" on, the batch is whole after the next start. */
const steps: readonly {
  readonly step: StoreStep;
  readonly afterwards: "absent" | "whole";
  readonly caughtUp: boolean;
}[] = [
  { step: "files written", afterwards: "absent", caughtUp: false },
  { step: "rows written", afterwards: "absent", caughtUp: false },
  { step: "journal written", afterwards: "whole", caughtUp: true },
  { step: "before commit", afterwards: "whole", caughtUp: true },
  { step: "after commit", afterwards: "whole", caughtUp: false },
  { step: "before reply", afterwards: "whole", caughtUp: false },
];

describe.each(engines)("the %s store, its process killed while it stores a drop", (kind) => {
  let engine: Engine;
  beforeAll(async () => {
    engine = await startEngine(kind);
  });
  afterAll(() => engine.stop());

  test("has the drop whole or not at all after the next start, and takes the same drop then", async () => {
    const place = await engine.freshPlace();
    let batches = 0;
    for (const [index, { step, afterwards, caughtUp }] of steps.entries()) {
      const lines = [`B${index}a,S1,2025-01-01,yes,1200.5,1`, `B${index}b,S2,2025-01-02,no,,2`];
      const child = startChild("killedChild.ts", [place.folder, place.databaseUrl ?? "", step, ...lines]);
      expect([await child.nextLine(), await child.nextLine(), child.errors()]).toEqual(["opened", null, ""]);
      expect(await child.ended()).toBe("SIGKILL");

      const store = await openStore(place);
      expect(store.opening.map(({ code }) => code)).toEqual([
        "stale-lock-taken-over",
        ...(caughtUp ? ["caught-up"] : []),
      ]);
      const there = (await store.batches()).length - batches;
      expect({ step, there }).toEqual({ step, there: afterwards === "whole" ? 1 : 0 });
      const before = await store.loadRecords();
      const rowsOf = (rows: readonly { readonly redress: string }[] = []) =>
        rows.filter(({ redress }) => redress.startsWith(`B${index}`)).length;
      const expected = afterwards === "whole" ? 2 : 0;
      for (const table of ["redresses", "joints", "fitted_items"] as const) {
        expect({ step, table, rows: rowsOf(before.records[table]) }).toEqual({ step, table, rows: expected });
      }

      const again = await store.storeBatch(buildDrop(lines));
      expect(again.counts).toMatchObject(afterwards === "whole" ? { new: 0, unchanged: 2 } : { new: 2, unchanged: 0 });
      if (afterwards === "whole") expect(again.dataHash).toBe(before.dataHash);
      batches = again.batch;
      await store.close();
    }

    // Killed six times or never: the same data.
    const { store: straight } = await engine.freshStore();
    for (const index of steps.keys()) {
      await straight.storeBatch(buildDrop([`B${index}a,S1,2025-01-01,yes,1200.5,1`, `B${index}b,S2,2025-01-02,no,,2`]));
    }
    const store = await openStore(place);
    expect(await store.loadRecords()).toEqual(await straight.loadRecords());
    await store.close();
    await straight.close();
  }, 180_000);
});

test("a first start killed half-way is made again by the next, its remains kept", async () => {
  const engine = await startEngine("embedded");
  const { folder } = await engine.freshPlace();
  // The copy stands for a data folder whose start got as far as its files: without the mark it is not complete.
  await rm(join(folder, "data", "afterrun-complete"));
  await writeFile(join(folder, "data", "global", "pg_control"), "");
  const store = await openStore({ folder });
  expect(store.opening.map(({ code }) => code)).toEqual(["unfinished-data-folder"]);
  expect((await store.storeBatch(buildDrop(["B1,S1,2025-01-01,yes,1,1"]))).batch).toBe(1);
  expect(existsSync(join(folder, "data.aside-1"))).toBe(true);
  await store.close();
  expect((await readdir(join(folder, "data"))).includes("afterrun-complete")).toBe(true);
  await engine.stop();
}, 180_000);
