import { existsSync } from "node:fs";
import { mkdir, rename, rm } from "node:fs/promises";
import { basename, join, resolve } from "node:path";
import { makeFolder, syncFolder } from "../durableFiles.ts";
import { lockFolder } from "../folderLock.ts";
import { openJournal } from "../journal.ts";
import { StorageError } from "../storageError.ts";
import { type BackupManifest, logName } from "./manifest.ts";
import { readBackup } from "./readBackup.ts";

/**
 * Puts the journal of a backup into a folder that holds none. The store is made from it by opening it. Cut off at any
 * moment, the folder holds no journal, or the whole of it.
 *
 * Errors  "backup-damaged", "folder-not-empty", "folder-in-use"
 */
export async function restoreBackup(file: string, target: string): Promise<BackupManifest> {
  const folder = resolve(target);
  const journalFolder = join(folder, "journal");
  const restoring = join(folder, "journal.restoring");
  await makeFolder(folder);
  const lock = await lockFolder(folder);
  try {
    for (const [name, holds] of [
      [join(journalFolder, "log.jsonl"), "a journal"],
      [join(folder, "data"), "a store"],
    ] as const) {
      if (existsSync(name)) throw new StorageError("folder-not-empty", { folder, holds });
    }
    await rm(restoring, { recursive: true, force: true });
    await mkdir(join(restoring, "files"), { recursive: true });
    try {
      const manifest = await readBackup(file, (name) =>
        join(restoring, ...(name === logName ? ["log.jsonl"] : ["files", basename(name)])),
      );
      const journal = await openJournal(restoring);
      const last = journal.entries.at(-1);
      if (journal.torn !== null || last?.hash !== manifest.lastHash || last.sequence !== manifest.entries) {
        throw new StorageError("backup-damaged", { file, why: "its journal does not end as its list says" });
      }
      await syncFolder(join(restoring, "files"));
      await syncFolder(restoring);
      // A folder without a log may be left by a start that was cut off.
      await rm(journalFolder, { recursive: true, force: true });
      await rename(restoring, journalFolder);
      await syncFolder(folder);
      return manifest;
    } catch (error) {
      await rm(restoring, { recursive: true, force: true });
      throw error;
    }
  } finally {
    await lock.release();
  }
}
