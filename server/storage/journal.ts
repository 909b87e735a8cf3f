/**
 * The append-only journal: `log.jsonl`, one entry a line, and `files/<sha256>`, the bytes as dropped. An entry is on
 * the disk, with all bytes it names, before anybody hears that it was stored.
 *
 * A line is `{"hash":"...","entry":{"sequence":...,"previous":"...","body":...}}`; the hash is the SHA-256 of the text
 * of `entry` as it stands in the line, and `previous` is the hash of the line before: a chain from the first line on.
 */
import { readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import { noHash, sha256 } from "./canonicalJson.ts";
import { makeFolder, type OpenFile, openOnDisk, syncFolder, writeWhole } from "./durableFiles.ts";
import { type JournalBody, type JournalEntry, knownKinds } from "./journalEntry.ts";
import { parseLog, type TornTail } from "./parseLog.ts";
import { reasonOf, StorageError } from "./storageError.ts";

export interface Journal {
  readonly logFile: string;
  readonly entries: readonly JournalEntry[];
  /** What a cut-off write left behind the last whole entry. Nothing is touched until `setTornTailAside`. */
  readonly torn: TornTail | null;
  /** Bytes of the log that hold whole entries. */
  readonly wholeBytes: number;
  /** Moves the torn tail into a file of its own and cuts it off the log. Returns that file's path. */
  setTornTailAside(): Promise<string>;
  storeFile(bytes: Uint8Array): Promise<string>;
  fileBytes(sha: string, name: string): Promise<Uint8Array>;
  /** Appends an entry and returns once it is on the disk. */
  append(body: JournalBody): Promise<JournalEntry>;
}

/**
 * Opens a journal and checks its chain; makes its folders if missing.
 *
 * Errors  "journal-damaged" where an entry that others follow does not match its hash, naming the entry;
 *         "entry-not-known" where a newer version of this program has written an entry. Nothing is touched then.
 */
export async function openJournal(folder: string, openFile: OpenFile = openOnDisk): Promise<Journal> {
  const files = join(folder, "files");
  const logFile = join(folder, "log.jsonl");
  await makeFolder(files);
  const log = await readFile(logFile).catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT") return new Uint8Array();
    throw error;
  });
  const parsed = parseLog(logFile, log);
  refuseUnknown(logFile, parsed.entries);
  const entries: JournalEntry[] = [...parsed.entries];
  let torn = parsed.torn;
  let length = parsed.length;
  let stoppedBecause: string | null = null;

  const pathOf = (sha: string) => join(files, sha);

  return {
    logFile,
    entries,
    get torn() {
      return torn;
    },
    get wholeBytes() {
      return length;
    },
    async setTornTailAside() {
      if (torn === null) throw new StorageError("bad-batch", { why: "the journal has no torn end" });
      const aside = join(folder, `torn-${torn.sequence}-${sha256(torn.bytes).slice(0, 8)}.txt`);
      await writeWhole(openOnDisk, aside, torn.bytes);
      await cutLog(openOnDisk, logFile, length);
      torn = null;
      return aside;
    },
    async storeFile(bytes) {
      const sha = sha256(bytes);
      const path = pathOf(sha);
      const kept = await stat(path).catch(() => null);
      if (kept?.size === bytes.length && sha256(await readFile(path)) === sha) return sha;
      try {
        await writeWhole(openFile, path, bytes);
      } catch (error) {
        throw writeError(path, error);
      }
      return sha;
    },
    async fileBytes(sha, name) {
      const path = pathOf(sha);
      const bytes = await readFile(path).catch(() => null);
      if (bytes === null) throw new StorageError("journal-file-missing", { file: name, path });
      if (sha256(bytes) !== sha) throw new StorageError("journal-file-damaged", { file: name, path });
      return bytes;
    },
    async append(body) {
      if (stoppedBecause !== null) throw new StorageError("journal-stopped", { because: stoppedBecause });
      const sequence = entries.length + 1;
      const previous = entries.at(-1)?.hash ?? noHash;
      const entry = JSON.stringify({ sequence, previous, body });
      const hash = sha256(entry);
      const line = Buffer.from(`{"hash":"${hash}","entry":${entry}}\n`);
      try {
        await appendLine(openFile, logFile, line);
        if (sequence === 1) await syncFolder(folder);
      } catch (error) {
        // Half a line may be there, or a whole one that is not on the disk. Nobody was told of it: cut it off again.
        // If even that fails, the next start finds it as torn, or whole and then stored; nothing may follow it now.
        await cutLog(openFile, logFile, length).catch((again: unknown) => {
          stoppedBecause = reasonOf(again);
        });
        throw writeError(logFile, error);
      }
      length += line.length;
      const appended = { sequence, previous, hash, body };
      entries.push(appended);
      return appended;
    },
  };
}

/** An entry that is not understood must not be passed over: what follows may rest on it. */
function refuseUnknown(file: string, entries: readonly JournalEntry[]): void {
  for (const { sequence, body } of entries) {
    const { kind, version = 1 }: { readonly kind: string; readonly version?: number } = body;
    const known = Object.hasOwn(knownKinds, kind) ? knownKinds[body.kind] : 0;
    if (version > known)
      throw new StorageError("entry-not-known", { file, sequence, kind: kind.slice(0, 40), version });
  }
}

async function appendLine(openFile: OpenFile, path: string, line: Uint8Array): Promise<void> {
  const file = await openFile(path, "a");
  try {
    await file.write(line);
    await file.sync();
  } finally {
    await file.close();
  }
}

async function cutLog(openFile: OpenFile, path: string, length: number): Promise<void> {
  const file = await openFile(path, "a");
  try {
    await file.truncate(length);
    await file.sync();
  } finally {
    await file.close();
  }
}

function writeError(path: string, error: unknown): StorageError {
  const { code } = error as NodeJS.ErrnoException;
  const full = code === "ENOSPC" || code === "EDQUOT";
  return new StorageError(full ? "disk-full" : "write-failed", { path, reason: reasonOf(error) });
}
