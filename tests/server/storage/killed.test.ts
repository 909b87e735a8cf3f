import { existsSync } from "node:fs";
import { readdir, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { openStore } from "../../../server/storage/openStore.ts";
import { buildDrop } from "./support/drops.ts";
import { engines, startEngine } from "./support/engines.ts";
import { killedCases } from "./support/killedCases.ts";

// Side by side: while one waits for its process, the other goes on.
describe.concurrent.each(engines)("the %s store, its process killed while it stores a drop", killedCases);

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
