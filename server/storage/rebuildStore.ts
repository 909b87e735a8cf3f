import { existsSync } from "node:fs";
import { rename, rm } from "node:fs/promises";
import { join, resolve } from "node:path";
import { syncFolder } from "./durableFiles.ts";
import { openEmbedded, putAside } from "./embeddedDatabase.ts";
import { lockFolder } from "./folderLock.ts";
import { type Journal, openJournal } from "./journal.ts";
import type { ReadBatch } from "./journalEntry.ts";
import { readBatch as readBatchAgain } from "./readBatch.ts";
import { hashTables } from "./readTables.ts";
import { catchUp, checkFiles, emptyOutdated, readState, refuseMismatch } from "./reconcile.ts";
import { openServer } from "./serverDatabase.ts";
import { type Database, quoted } from "./sql.ts";
import { reasonOf, StorageError } from "./storageError.ts";

type Hashes = Readonly<Record<string, string>>;

export interface RebuildReport {
  readonly batches: number;
  /** Journal entries whose checksum and file bytes were checked and replayed. */
  readonly entries: number;
  /** `before` null where the old store could not be read. */
  readonly tables: readonly { readonly table: string; readonly before: string | null; readonly after: string }[];
  /** Every table of the old store hashes as the rebuilt one; null where there was no old store to compare. */
  readonly equal: boolean | null;
  /** Why the old store could not be read; null where it could, or where there was none. */
  readonly unreadable: string | null;
  /** Batches that read today otherwise than when they were stored. */
  readonly differing: readonly number[];
  /** Where the remains of a cut-off last entry were put. */
  readonly tornLine: string | null;
  /** The rebuilt store is the store now. False where it differs from a readable old one and `replace` is not set. */
  readonly swapped: boolean;
  /** Where the old data folder is kept (embedded). */
  readonly keptOld: string | null;
}

export interface RebuildOptions {
  readonly folder: string;
  readonly databaseUrl?: string;
  /** Take the rebuilt store even where the old one can be read and differs. */
  readonly replace?: boolean;
  readonly readBatch?: ReadBatch;
  /** Puts an empty data folder in place; without it the engine makes one, which takes seconds. For tests. */
  readonly emptyData?: (folder: string) => Promise<void>;
}

/**
 * Makes the store again from its journal, reading every sheet from its bytes, and compares it with the old one table
 * by table. Cut off at any moment, the next start finds the old store, the new one, or makes it from the journal.
 *
 * Errors  those of `openStore`, except that an unreadable old store is what this is for;
 *         "journal-file-missing", "journal-file-damaged"
 */
export async function rebuildStore(options: RebuildOptions): Promise<RebuildReport> {
  const folder = resolve(options.folder);
  const readBatch = options.readBatch ?? readBatchAgain;
  if (!existsSync(join(folder, "journal", "log.jsonl"))) {
    throw new StorageError("bad-batch", { why: `${folder} holds no journal` });
  }
  const lock = await lockFolder(folder);
  try {
    const journal = await openJournal(join(folder, "journal"));
    await checkFiles(journal);
    const inFolder = options.databaseUrl === undefined || options.databaseUrl === "";
    if (inFolder) await removeRemains(folder, options.emptyData);
    return inFolder
      ? await rebuildEmbedded(folder, journal, readBatch, options.replace ?? false)
      : await rebuildServer(options.databaseUrl, journal, readBatch, options.replace ?? false);
  } finally {
    await lock.release();
  }
}

/** What a rebuild that was cut off left behind is all in the journal. */
async function removeRemains(folder: string, emptyData: RebuildOptions["emptyData"]): Promise<void> {
  await rm(join(folder, "data.rebuilt"), { recursive: true, force: true });
  await emptyData?.(join(folder, "data.rebuilt"));
}

async function rebuildEmbedded(
  folder: string,
  journal: Journal,
  readBatch: ReadBatch,
  replace: boolean,
): Promise<RebuildReport> {
  const [data, rebuilt] = [join(folder, "data"), join(folder, "data.rebuilt")];
  const before = existsSync(data) ? await oldHashes(() => openEmbedded(data), journal, readBatch) : null;
  const tornLine = journal.torn === null ? null : await journal.setTornTailAside();
  const database = await openEmbedded(rebuilt);
  let report: RebuildReport;
  try {
    report = await compared(database, journal, readBatch, before, tornLine, replace);
  } finally {
    await database.close();
  }
  if (!report.swapped) return report;
  const keptOld = existsSync(data) ? await putAside(data) : null;
  await rename(rebuilt, data);
  await syncFolder(folder);
  return { ...report, keptOld };
}

/** On a server all of it is one transaction: others see the old rows or the new ones. */
async function rebuildServer(
  databaseUrl: string,
  journal: Journal,
  readBatch: ReadBatch,
  replace: boolean,
): Promise<RebuildReport> {
  const database = await openServer(databaseUrl);
  try {
    const before = await oldHashes(async () => ({ ...database, close: async () => undefined }), journal, readBatch);
    const tornLine = journal.torn === null ? null : await journal.setTornTailAside();
    return await database
      .transaction(async (sql) => {
        const names = Object.keys(await hashTables(sql));
        await sql.query(`truncate ${[...names, "store_state"].map(quoted).join(", ")}`);
        const within: Database = { ...database, ...sql, transaction: (work) => work(sql) };
        const report = await compared(within, journal, readBatch, before, tornLine, replace);
        if (!report.swapped) throw new NotTaken(report);
        return report;
      })
      .catch((error: unknown) => {
        if (error instanceof NotTaken) return error.report;
        throw error;
      });
  } finally {
    await database.close();
  }
}

/** Rolls the transaction back and carries the report out of it. */
class NotTaken extends Error {
  constructor(readonly report: RebuildReport) {
    super("the rebuilt store differs");
  }
}

async function compared(
  database: Database,
  journal: Journal,
  readBatch: ReadBatch,
  before: OldHashes | null,
  tornLine: string | null,
  replace: boolean,
): Promise<RebuildReport> {
  const { replayed, notices } = await catchUp(database, journal, readBatch);
  const after = await hashTables(database);
  const old = before?.hashes ?? null;
  const equal = old === null ? null : Object.entries(after).every(([table, hash]) => old[table] === hash);
  return {
    batches: replayed.length,
    entries: journal.entries.length,
    tables: Object.entries(after).map(([table, hash]) => ({ table, before: old?.[table] ?? null, after: hash })),
    equal,
    unreadable: before?.unreadable ?? null,
    differing: notices.flatMap(({ code, facts }) =>
      code === "replayed-differently" && facts.batch !== null ? [Number(facts.batch)] : [],
    ),
    tornLine,
    swapped: replace || equal !== false,
    keptOld: null,
  };
}

interface OldHashes {
  readonly hashes: Hashes | null;
  readonly unreadable: string | null;
}

/** Hashes of the old store, brought up to the journal first; or why there are none. */
async function oldHashes(open: () => Promise<Database>, journal: Journal, readBatch: ReadBatch): Promise<OldHashes> {
  let database: Database | null = null;
  try {
    database = await open();
    refuseMismatch(await readState(database), journal, database.place);
    await emptyOutdated(database, journal);
    await catchUp(database, journal, readBatch);
    return { hashes: await hashTables(database), unreadable: null };
  } catch (error) {
    return { hashes: null, unreadable: reasonOf(error) };
  } finally {
    await database?.close().catch(() => undefined);
  }
}
