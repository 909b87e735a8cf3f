import { existsSync } from "node:fs";
import { readdir, rename, writeFile } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { PGlite, type Transaction } from "@electric-sql/pglite";
import { drizzle } from "drizzle-orm/pglite";
import { migrate } from "drizzle-orm/pglite/migrator";
import { makeFolder, syncChanged, syncFolder } from "./durableFiles.ts";
import { migrationsFolder } from "./migrationsFolder.ts";
import { refuseNewerStore } from "./refuseNewerStore.ts";
import type { Database, Sql } from "./sql.ts";
import { reasonOf, StorageError } from "./storageError.ts";

/** Written when a new data folder is complete; without it the folder is a start that was cut off. */
const completeMark = "afterrun-complete";

/** How far a file's time may lie behind the clock, in ms. */
const timeSlack = 2_000;

export interface EmbeddedDatabase extends Database {
  /** Where the remains of a cut-off first start were put. */
  readonly unfinished: string | null;
}

/** Opens the embedded PostgreSQL in a folder, which the caller has locked, and brings it to the newest schema. */
export async function openEmbedded(folder: string): Promise<EmbeddedDatabase> {
  const mark = join(folder, completeMark);
  let unfinished: string | null = null;
  if (existsSync(folder) && !existsSync(mark)) unfinished = await putAside(folder);
  await makeFolder(folder);

  let syncedSince = Date.now() - timeSlack;
  let engine: PGlite | null = null;
  try {
    engine = await PGlite.create(folder);
    await refuseNewerStore(asSql(engine), folder);
    await migrate(drizzle(engine), { migrationsFolder });
    if (!existsSync(mark)) {
      await syncChanged(folder, 0);
      await writeFile(mark, "", { flush: true });
      await syncFolder(folder);
    }
  } catch (error) {
    await engine?.close().catch(() => undefined);
    if (error instanceof StorageError) throw error;
    throw new StorageError("store-unreadable", { place: folder, reason: reasonOf(error) });
  }

  const opened = engine;
  return {
    kind: "embedded",
    place: folder,
    unfinished,
    ...asSql(opened),
    transaction: (work) => opened.transaction((transaction) => work(asSql(transaction))),
    async sync() {
      const since = Date.now() - timeSlack;
      // What could not be synced now is tried again after the next batch.
      await syncChanged(folder, syncedSince).then(
        () => {
          syncedSince = since;
        },
        () => undefined,
      );
    },
    async close() {
      await opened.close();
      await syncChanged(folder, syncedSince).catch(() => undefined);
    },
  };
}

function asSql(engine: PGlite | Transaction): Sql {
  return {
    async query(text, parameters = []) {
      const { rows } = await engine.query<Readonly<Record<string, unknown>>>(text, [...parameters]);
      return rows;
    },
  };
}

/** Renames a folder to the first free `<name>.aside-<n>`. */
export async function putAside(folder: string): Promise<string> {
  const names = new Set(await readdir(dirname(folder)));
  for (let count = 1; ; count += 1) {
    const name = `${basename(folder)}.aside-${count}`;
    if (names.has(name)) continue;
    const path = join(dirname(folder), name);
    await rename(folder, path);
    await syncFolder(dirname(folder));
    return path;
  }
}
