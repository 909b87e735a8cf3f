import { existsSync } from "node:fs";
import { mkdir, readdir, rename, rm, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { makeFolder, syncFolder } from "../durableFiles.ts";
import { reasonOf, StorageError } from "../storageError.ts";
import type { Store } from "../store.ts";
import { exportStore, type StoreExport } from "./exportStore.ts";

/** Writes everything stored into a new folder: complete under its name, or not there. Errors  "folder-not-empty", "write-failed" */
export async function writeExport(store: Store, target: string, madeAt: string): Promise<StoreExport> {
  const folder = resolve(target);
  if (existsSync(folder) && (await readdir(folder)).length > 0) {
    throw new StorageError("folder-not-empty", { folder, holds: "files" });
  }
  const exported = await exportStore(store, madeAt);
  const passing = `${folder}.part-${process.pid}`;
  try {
    await makeFolder(dirname(folder));
    for (const { name, bytes } of exported.files) {
      await mkdir(dirname(join(passing, name)), { recursive: true });
      await writeFile(join(passing, name), bytes, { flush: true });
    }
    await rm(folder, { recursive: true, force: true });
    await rename(passing, folder);
    await syncFolder(dirname(folder));
  } catch (error) {
    await rm(passing, { recursive: true, force: true });
    const full = (error as NodeJS.ErrnoException).code === "ENOSPC";
    throw new StorageError(full ? "disk-full" : "write-failed", { path: folder, reason: reasonOf(error) });
  }
  return exported;
}
