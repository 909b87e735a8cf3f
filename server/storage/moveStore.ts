import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import { makeFolder, openOnDisk, writeWhole } from "./durableFiles.ts";
import { lockFolder } from "./folderLock.ts";
import { type Journal, openJournal } from "./journal.ts";
import { openStore } from "./openStore.ts";
import { StorageError } from "./storageError.ts";
import type { OpenStoreOptions } from "./store.ts";

type Place = Pick<OpenStoreOptions, "folder" | "databaseUrl">;

export interface MoveReport {
  readonly batches: number;
  readonly tables: readonly { readonly table: string; readonly before: string; readonly after: string }[];
  readonly to: Place;
}

export interface MoveOptions {
  readonly from: Place;
  /** The address of a PostgreSQL server, or a folder for the embedded store. */
  readonly to: string;
}

/**
 * Moves a store: to a server, whose tables are filled from the journal, which stays in its folder; or to a folder, which
 * gets a copy of the journal and tables of its own. The store moved from is left as it is.
 *
 * Errors  those of `openStore` for either place; "bad-batch" where it is there already;
 *         "journal-of-another-store" where the target holds something else; "move-differs" where a table comes out
 *         otherwise
 */
export async function moveStore({ from, to }: MoveOptions): Promise<MoveReport> {
  const toServer = /^postgres(ql)?:\/\//i.test(to);
  const folder = toServer ? resolve(from.folder) : resolve(to);
  const here = resolve(from.folder) === folder;
  const target: Place = toServer ? { folder, databaseUrl: to } : { folder };
  const place = toServer ? addressOf(to) : folder;
  if (here && (toServer ? from.databaseUrl === to : from.databaseUrl === undefined)) {
    throw new StorageError("bad-batch", { why: "it is there already" });
  }
  if (!existsSync(join(from.folder, "journal", "log.jsonl"))) {
    throw new StorageError("bad-batch", { why: `${resolve(from.folder)} holds no store to move` });
  }

  const source = await openStore(from);
  let before: Readonly<Record<string, string>>;
  try {
    before = await source.tableHashes();
    if (!here) {
      const lock = await lockFolder(folder);
      try {
        await copyJournal(source.journalFolder, join(folder, "journal"));
      } finally {
        await lock.release();
      }
    }
  } finally {
    await source.close();
  }
  const moved = await openStore(target);
  try {
    const after = await moved.tableHashes();
    const tables = Object.entries(after).map(([table, hash]) => ({ table, before: before[table] ?? "", after: hash }));
    const differing = tables.filter((each) => each.before !== each.after).map(({ table }) => table);
    if (differing.length > 0) throw new StorageError("move-differs", { place, tables: differing.join(", ") });
    return { batches: (await moved.batches()).length, tables, to: target };
  } finally {
    await moved.close();
  }
}

/** Host and database of an address: what a message may show. */
function addressOf(databaseUrl: string): string {
  const { host, pathname } = new URL(databaseUrl);
  return `${host}${pathname}`;
}

/** Copies a journal into a folder that holds none, or an earlier state of the same one. */
async function copyJournal(source: string, target: string): Promise<void> {
  const journal = await openJournal(source);
  const there = existsSync(join(target, "log.jsonl")) ? await openJournal(target) : null;
  if (there !== null) refuseOther(there, journal);
  await makeFolder(join(target, "files"));
  const copy = there ?? (await openJournal(target));
  for (const { body } of journal.entries) {
    if (body.kind !== "batch") continue;
    for (const { file, sha256 } of body.files) await copy.storeFile(await journal.fileBytes(sha256, file));
  }
  // The log last: an entry stands in a journal after its bytes.
  const log = (await readFile(journal.logFile)).subarray(0, journal.wholeBytes);
  await writeWhole(openOnDisk, join(target, "log.jsonl"), log);
}

function refuseOther(there: Journal, journal: Journal): void {
  const last = there.entries.at(-1);
  if (last === undefined && there.torn === null) return;
  if (there.torn !== null || last === undefined || journal.entries[last.sequence - 1]?.hash !== last.hash) {
    throw new StorageError("journal-of-another-store", { place: there.logFile, file: journal.logFile });
  }
}
