import { createHash, randomUUID } from "node:crypto";
import { createReadStream, createWriteStream, existsSync } from "node:fs";
import { open, rename, rm } from "node:fs/promises";
import { dirname, join } from "node:path";
import { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import { createGzip } from "node:zlib";
import { makeFolder, syncFolder } from "../durableFiles.ts";
import { openJournal } from "../journal.ts";
import { reasonOf, StorageError } from "../storageError.ts";
import { type BackupManifest, fileName, logName, manifestName, manifestOf } from "./manifest.ts";
import { tarEnd, tarHeader, tarPadding } from "./tar.ts";

export interface BackupParts {
  readonly manifest: BackupManifest;
  /** The packed bytes of the backup. */
  readonly stream: Readable;
}

/**
 * A backup of a journal as a stream: all whole entries and the bytes they name.
 *
 * The journal only grows, and an entry stands in it after its bytes, so its beginning is a consistent store at any
 * moment: a backup needs no lock and may be made while the program runs. A write still under way is left out.
 *
 * Errors  those of opening a journal; "journal-file-missing", "journal-file-damaged"; "bad-batch" without a journal
 */
export async function backupOf(journalFolder: string, madeAt: string): Promise<BackupParts> {
  const logFile = join(journalFolder, "log.jsonl");
  if (!existsSync(logFile)) throw new StorageError("bad-batch", { why: `${journalFolder} holds no journal` });
  const journal = await openJournal(journalFolder);
  const bytes = journal.wholeBytes;
  const log = { bytes, sha256: await hashOfBeginning(logFile, bytes) };
  const manifest = await manifestOf(journal, log, madeAt);
  if (manifest === null) throw new StorageError("bad-batch", { why: `${journalFolder} holds no journal` });
  // Entries were checked when the journal was read: the beginning of the file must still be those.
  const again = await openJournal(journalFolder);
  if (again.entries[manifest.entries - 1]?.hash !== manifest.lastHash) {
    throw new StorageError("write-failed", { path: logFile, reason: "an entry was taken back meanwhile; try again" });
  }
  const raw = Readable.from(tarOf(journalFolder, manifest));
  const stream = raw.pipe(createGzip());
  raw.on("error", (error) => stream.destroy(error));
  return { manifest, stream };
}

/** Writes a backup into one file: it is complete under its name, or not there. Errors  also "disk-full", "write-failed" */
export async function writeBackup(journalFolder: string, file: string, madeAt: string): Promise<BackupManifest> {
  const { manifest, stream } = await backupOf(journalFolder, madeAt);
  const passing = `${file}.${randomUUID()}.part`;
  try {
    await makeFolder(dirname(file));
    await pipeline(stream, createWriteStream(passing, { flags: "wx" }));
    const handle = await open(passing, "r+");
    try {
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(passing, file);
  } catch (error) {
    await rm(passing, { force: true });
    if (error instanceof StorageError) throw error;
    const full = (error as NodeJS.ErrnoException).code === "ENOSPC";
    throw new StorageError(full ? "disk-full" : "write-failed", { path: file, reason: reasonOf(error) });
  }
  await syncFolder(dirname(file));
  return manifest;
}

async function* tarOf(journalFolder: string, manifest: BackupManifest): AsyncGenerator<Uint8Array> {
  const text = Buffer.from(`${JSON.stringify(manifest, null, 1)}\n`);
  yield tarHeader(manifestName, text.length);
  yield text;
  yield tarPadding(text.length);
  yield* fileIn(logName, join(journalFolder, "log.jsonl"), manifest.log.bytes);
  for (const { sha256, bytes } of manifest.files) {
    yield* fileIn(fileName(sha256), join(journalFolder, "files", sha256), bytes);
  }
  yield tarEnd;
}

async function* fileIn(name: string, path: string, size: number): AsyncGenerator<Uint8Array> {
  yield tarHeader(name, size);
  let written = 0;
  if (size > 0) {
    for await (const piece of createReadStream(path, { end: size - 1 }) as AsyncIterable<Uint8Array>) {
      written += piece.length;
      yield piece;
    }
  }
  if (written !== size) throw new StorageError("journal-file-damaged", { file: name, path });
  yield tarPadding(size);
}

async function hashOfBeginning(path: string, size: number): Promise<string> {
  const hash = createHash("sha256");
  if (size > 0) {
    for await (const piece of createReadStream(path, { end: size - 1 }) as AsyncIterable<Uint8Array>)
      hash.update(piece);
  }
  return hash.digest("hex");
}
