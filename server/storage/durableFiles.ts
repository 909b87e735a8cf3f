/** Files that are on the disk when the call returns, not just in the system's cache. */
import { randomUUID } from "node:crypto";
import { readdirSync, statSync } from "node:fs";
import { mkdir, open, rename, rm } from "node:fs/promises";
import { dirname, join } from "node:path";

export interface OpenedFile {
  write(bytes: Uint8Array): Promise<unknown>;
  sync(): Promise<void>;
  truncate(length: number): Promise<void>;
  close(): Promise<void>;
}

/** Opens a file to write; `"a"` appends, `"wx"` makes a new one. */
export type OpenFile = (path: string, flags: "a" | "wx") => Promise<OpenedFile>;

export const openOnDisk: OpenFile = async (path, flags) => {
  const handle = await open(path, flags);
  return {
    write: (bytes) => handle.writeFile(bytes),
    sync: () => handle.sync(),
    truncate: (length) => handle.truncate(length),
    close: () => handle.close(),
  };
};

/** Makes the names in a folder durable. Some systems cannot sync a folder; there the file's own sync has to do. */
export async function syncFolder(folder: string): Promise<void> {
  try {
    const handle = await open(folder, "r");
    try {
      await handle.sync();
    } finally {
      await handle.close();
    }
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code !== "EISDIR" && code !== "EPERM" && code !== "EINVAL" && code !== "EACCES") throw error;
  }
}

/** Makes a folder and its missing parents, durably. */
export async function makeFolder(folder: string): Promise<void> {
  const made = await mkdir(folder, { recursive: true });
  if (made === undefined) return;
  for (let inner = folder; inner.length >= made.length; inner = dirname(inner)) await syncFolder(dirname(inner));
}

/** Writes a whole file under a passing name, syncs, then gives it its name: the file is complete or not there. */
export async function writeWhole(openFile: OpenFile, path: string, bytes: Uint8Array): Promise<void> {
  const passing = `${path}.${randomUUID()}.part`;
  try {
    const file = await openFile(passing, "wx");
    try {
      await file.write(bytes);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(passing, path);
  } catch (error) {
    await rm(passing, { force: true });
    throw error;
  }
  await syncFolder(dirname(path));
}

/**
 * Syncs every file under a folder that was written since `since` (ms), and every folder that gained or lost a name.
 * The embedded engine writes its files but never syncs them.
 *
 * @returns the number of files synced
 */
export async function syncChanged(folder: string, since: number): Promise<number> {
  const written = (path: string) => {
    // The engine may drop a file between the listing and here.
    const found = statSync(path, { throwIfNoEntry: false });
    return found !== undefined && found.mtimeMs >= since;
  };
  let synced = 0;
  const foldersToSync = new Set<string>();
  // Looked through at once: a thousand waits cost several times what the thousand looks do.
  for (const entry of readdirSync(folder, { withFileTypes: true, recursive: true })) {
    const path = join(entry.parentPath, entry.name);
    if (!written(path)) continue;
    if (entry.isDirectory()) foldersToSync.add(path);
    else if (entry.isFile()) {
      const handle = await open(path, "r+").catch(() => null);
      if (handle === null) continue;
      try {
        await handle.sync();
      } finally {
        await handle.close();
      }
      synced += 1;
    }
  }
  for (const path of foldersToSync) await syncFolder(path).catch(() => undefined);
  await syncFolder(folder);
  return synced;
}
