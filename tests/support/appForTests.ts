import { mkdtemp, rm } from "node:fs/promises";
import { join } from "node:path";
import type { Express } from "express";
import { pino } from "pino";
import { type AppOptions, createApp } from "../../server/app.ts";
import { openStore } from "../../server/storage/openStore.ts";
import type { BatchInput, Store } from "../../server/storage/store.ts";
import { createDropPool } from "../../server/work/dropPool.ts";
import { createStudyPool, type StudyPool } from "../../server/work/studyPool.ts";
import { quickFolder } from "./quickFolder.ts";

export interface AppForTests {
  readonly app: Express;
  readonly store: Store;
  readonly pool: StudyPool;
  readonly folder: string;
  close(): Promise<void>;
}

/** The real app on a store of its own in a temporary folder, with the clock standing still. */
export async function appForTests(
  options: Partial<AppOptions> & { readonly batches?: readonly BatchInput[] } = {},
): Promise<AppForTests> {
  const { batches = [], ...more } = options;
  const folder = await mkdtemp(join(quickFolder(), "afterrun-test-"));
  const store = options.store ?? (await openStore({ folder }));
  for (const batch of batches) await store.storeBatch(batch);
  const pool = options.pool ?? createStudyPool();
  const dropPool = options.dropPool ?? createDropPool();
  const app = createApp({
    clock: () => new Date("2025-06-01T12:00:00Z"),
    logger: pino({ level: "silent" }),
    ...more,
    store,
    pool,
    dropPool,
  });
  return {
    app,
    store,
    pool,
    folder,
    async close() {
      await pool.close();
      await dropPool.close();
      await store.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
