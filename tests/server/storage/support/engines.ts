/** The two engines under one face: a folder, and a database in it or beside it. */
import { mkdtemp, rm } from "node:fs/promises";
import { join } from "node:path";
import { openEmbedded } from "../../../../server/storage/embeddedDatabase.ts";
import { openStore } from "../../../../server/storage/openStore.ts";
import { hashTables } from "../../../../server/storage/readTables.ts";
import { openServer } from "../../../../server/storage/serverDatabase.ts";
import { type Database, quoted } from "../../../../server/storage/sql.ts";
import type { OpenStoreOptions, Store } from "../../../../server/storage/store.ts";
import { startPostgres } from "../../../support/postgres.ts";
import { copyEmptyData } from "../../../support/postgresFolder.ts";
import { quickFolder } from "../../../support/quickFolder.ts";

export interface Place {
  readonly folder: string;
  readonly databaseUrl?: string;
}

export interface Engine {
  /** A new folder with an empty store over an engine that keeps running: quick, for all but starts and ends. */
  freshStore(more?: Partial<OpenStoreOptions>): Promise<{ readonly store: Store; readonly folder: string }>;
  /** A store of a folder over the running engine as the last store left it. */
  reopen(folder: string, more?: Partial<OpenStoreOptions>): Promise<Store>;
  /** The engine that keeps running, emptied. */
  emptyDatabase(): Promise<Database>;
  /** The engine that keeps running, as the last store left it. */
  keptDatabase(): Promise<Database>;
  /** A new folder and an empty database of its own. */
  freshPlace(): Promise<Place>;
  stop(): Promise<void>;
}

export const engines = ["embedded", "server"] as const;

export async function startEngine(kind: (typeof engines)[number]): Promise<Engine> {
  const parent = await mkdtemp(join(quickFolder(), "afterrun-store-"));
  let count = 0;
  const freshFolder = () => join(parent, `place-${++count}`);
  const postgres = kind === "server" ? await startPostgres() : null;

  const copied = async (folder: string): Promise<Place> => {
    await copyEmptyData(join(folder, "data"));
    return { folder };
  };
  const onServer = async (folder: string): Promise<Place> => ({
    folder,
    databaseUrl: (await postgres?.freshDatabase()) ?? "",
  });
  const empty = postgres === null ? copied : onServer;

  let running: Database | null = null;
  const runningDatabase = async (): Promise<Database> => {
    running ??=
      postgres === null
        ? await openEmbedded(join((await copied(freshFolder())).folder, "data"))
        : await openServer(await postgres.freshDatabase());
    // Truncating makes a new file a table, which costs the embedded engine more than all of a test. Batches go last:
    // every other row refers to one.
    const names = Object.keys(await hashTables(running)).filter((name) => name !== "batches");
    for (const name of [...names, "batches", "store_state"]) await running.query(`delete from ${quoted(name)}`);
    return await kept();
  };
  const kept = async (): Promise<Database> => {
    if (running === null) throw new Error("no store was opened over the running engine yet");
    return { ...running, close: async () => undefined };
  };

  return {
    async freshStore(more = {}) {
      const folder = freshFolder();
      return { folder, store: await openStore({ folder, openDatabase: runningDatabase, ...more }) };
    },
    reopen: (folder, more = {}) => openStore({ folder, openDatabase: kept, ...more }),
    emptyDatabase: runningDatabase,
    keptDatabase: kept,
    freshPlace: () => empty(freshFolder()),
    async stop() {
      await running?.close();
      await postgres?.stop();
      await rm(parent, { recursive: true, force: true });
    },
  };
}
