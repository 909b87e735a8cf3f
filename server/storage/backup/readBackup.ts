import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { open } from "node:fs/promises";
import { createGunzip } from "node:zlib";
import { z } from "../../contracts/zod.ts";
import { reasonOf, StorageError } from "../storageError.ts";
import { type BackupManifest, fileName, logName, manifestName } from "./manifest.ts";
import { readTar, type TarEntry, TarError } from "./tar.ts";

const sha = z.string().regex(/^[0-9a-f]{64}$/);
const size = z.int().min(0);
const manifestContract = z.object({
  afterrunBackup: z.literal(1),
  journal: z.string(),
  madeAt: z.string(),
  entries: z.int().min(1),
  lastHash: sha,
  dataHash: sha.nullable(),
  log: z.object({ bytes: size, sha256: sha }),
  files: z.array(z.object({ sha256: sha, bytes: size })),
});

const largestManifest = 256 * 1024 * 1024;

/** Where a part of a backup goes: a path, or null to only check it. */
export type PlaceOfPart = (name: string) => string | null;

/**
 * Reads a backup from end to end and checks every byte of it against its manifest.
 *
 * @param place  Where each part is written, synced; by default nowhere.
 * Errors        "backup-damaged" says why
 */
export async function readBackup(file: string, place: PlaceOfPart = () => null): Promise<BackupManifest> {
  const refuse = (why: string): never => {
    throw new StorageError("backup-damaged", { file, why });
  };
  const source = createReadStream(file);
  const packed = source.pipe(createGunzip());
  source.on("error", (error) => packed.destroy(error));
  try {
    let manifest: BackupManifest | null = null;
    const wanted = new Map<string, { readonly bytes: number; readonly sha256: string }>();
    for await (const entry of readTar(packed as AsyncIterable<Uint8Array>)) {
      if (manifest === null) {
        manifest = await readManifest(entry, refuse);
        wanted.set(logName, manifest.log);
        for (const each of manifest.files) wanted.set(fileName(each.sha256), each);
        continue;
      }
      const expected = wanted.get(entry.name) ?? refuse("it holds a part that its list does not name");
      if (expected.bytes !== entry.size) refuse(`${entry.name} has another length than its list says`);
      if ((await writePart(entry, place(entry.name))) !== expected.sha256)
        refuse(`${entry.name} does not match its checksum`);
      wanted.delete(entry.name);
    }
    if (manifest === null) return refuse("it is empty");
    if (wanted.size > 0) refuse(`${[...wanted.keys()][0]} is missing`);
    return manifest;
  } catch (error) {
    if (error instanceof StorageError) throw error;
    if (error instanceof TarError) return refuse(error.message);
    const { code } = error as NodeJS.ErrnoException;
    if (code === "ENOSPC") throw new StorageError("disk-full", { path: file, reason: reasonOf(error) });
    return refuse(code === "ENOENT" ? "there is no such file" : reasonOf(error));
  } finally {
    source.destroy();
    packed.destroy();
  }
}

async function readManifest(entry: TarEntry, refuse: (why: string) => never): Promise<BackupManifest> {
  if (entry.name !== manifestName || entry.size > largestManifest) refuse("it is no backup of this program");
  const pieces: Uint8Array[] = [];
  for await (const piece of entry.bytes) pieces.push(piece);
  let body: unknown;
  try {
    body = JSON.parse(Buffer.concat(pieces).toString("utf8"));
  } catch {
    refuse("its list does not read");
  }
  const parsed = manifestContract.safeParse(body);
  return parsed.success ? parsed.data : refuse("its list does not read, or a newer version of this program wrote it");
}

/** Writes a part where it belongs and returns its hash. */
async function writePart({ bytes }: TarEntry, path: string | null): Promise<string> {
  const hash = createHash("sha256");
  const handle = path === null ? null : await open(path, "wx");
  try {
    for await (const piece of bytes) {
      hash.update(piece);
      // `writeFile` on a handle goes on where it stands, until all of the piece is written.
      await handle?.writeFile(piece);
    }
    await handle?.sync();
  } finally {
    await handle?.close();
  }
  return hash.digest("hex");
}
