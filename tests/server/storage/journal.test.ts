import { appendFile, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type OpenFile, openOnDisk } from "../../../server/storage/durableFiles.ts";
import { type Journal, openJournal } from "../../../server/storage/journal.ts";
import type { JournaledBatch } from "../../../server/storage/journalEntry.ts";

let parent: string;
let count = 0;
beforeAll(async () => {
  parent = await mkdtemp(join(tmpdir(), "afterrun-journal-"));
});
afterAll(() => rm(parent, { recursive: true, force: true }));
const freshFolder = () => join(parent, String(++count));

const batch = (number: number): JournaledBatch => ({
  kind: "batch",
  batch: number,
  who: "Å. Ö. \u{1F527}",
  when: "2026-01-05T08:00:00.000Z",
  files: [],
  sheets: [],
  words: { version: 1, vocabularies: { severity: { "10": 1, "9": 2 } } },
  setup: [],
  linkProblems: [],
  dataHash: "",
});

async function filled(folder: string, batches: number, openFile: OpenFile = openOnDisk): Promise<Journal> {
  const journal = await openJournal(folder, openFile);
  await journal.append({ kind: "begun", journal: "j", format: 1 });
  for (let number = 1; number <= batches; number += 1) await journal.append(batch(number));
  return journal;
}

const logOf = (folder: string) => join(folder, "log.jsonl");

test("entries are read back as written, each chained to the one before", async () => {
  const folder = freshFolder();
  const written = await filled(folder, 3);
  const read = await openJournal(folder);
  expect(read.torn).toBeNull();
  expect(read.entries).toEqual(written.entries);
  expect(read.entries.map(({ sequence }) => sequence)).toEqual([1, 2, 3, 4]);
  expect(read.entries.slice(1).map(({ previous }) => previous)).toEqual(
    read.entries.slice(0, -1).map(({ hash }) => hash),
  );
  for (const line of (await readFile(logOf(folder), "utf8")).trimEnd().split("\n")) JSON.parse(line);
});

test("a last line cut off at any byte is torn: all entries before it stand, and the rest is kept beside", async () => {
  const folder = freshFolder();
  const { entries } = await filled(folder, 2);
  const whole = await readFile(logOf(folder));
  const start = whole.subarray(0, -1).lastIndexOf(0x0a) + 1;
  for (let end = start + 1; end < whole.length; end += 1) {
    await writeFile(logOf(folder), whole.subarray(0, end));
    const journal = await openJournal(folder);
    expect(journal.entries).toEqual(entries.slice(0, -1));
    expect(journal.torn).toMatchObject({ sequence: 3 });
    // Nothing is touched before it is asked for.
    expect((await readFile(logOf(folder))).length).toBe(end);
    if (end % 50 !== 0) continue;
    const aside = await journal.setTornTailAside();
    expect(await readFile(aside)).toEqual(whole.subarray(start, end));
    expect(await readFile(logOf(folder))).toEqual(whole.subarray(0, start));
    expect(journal.torn).toBeNull();
    await journal.append(batch(9));
    expect((await openJournal(folder)).entries.at(-1)?.body).toEqual(batch(9));
  }
});

test("blocks of zeros or an older file's content in the last line are torn, too", async () => {
  const folder = freshFolder();
  await filled(folder, 2);
  const whole = await readFile(logOf(folder));
  for (const garbage of [
    Buffer.alloc(4096),
    Buffer.from('{"hash":"x"}\n\0\n\0\n'),
    Buffer.from([0xff, 0xfe, 0x0a, 0x0a]),
  ]) {
    await writeFile(logOf(folder), Buffer.concat([whole, garbage]));
    const journal = await openJournal(folder);
    expect(journal.entries).toHaveLength(3);
    expect(Buffer.from(journal.torn?.bytes ?? [])).toEqual(garbage);
  }
});

test("one byte changed anywhere before the last entry is refused, naming the entry; nothing is touched", async () => {
  const folder = freshFolder();
  await filled(folder, 2);
  const whole = await readFile(logOf(folder));
  const ends = [...whole.entries()].filter(([, byte]) => byte === 0x0a).map(([at]) => at);
  const lastStart = (ends.at(-2) ?? 0) + 1;
  for (let at = 0; at < lastStart; at += 7) {
    const damaged = Buffer.from(whole);
    damaged[at] = (damaged[at] ?? 0) ^ 0x01;
    await writeFile(logOf(folder), damaged);
    const sequence = ends.filter((end) => end < at).length + 1;
    await expect(openJournal(folder)).rejects.toMatchObject({
      code: "journal-damaged",
      facts: { sequence },
      message: expect.stringContaining(`damaged at entry ${sequence} `),
    });
    expect(await readFile(logOf(folder))).toEqual(damaged);
  }
});

test("an entry taken out, doubled or put elsewhere breaks the chain", async () => {
  const folder = freshFolder();
  await filled(folder, 3);
  const [a, b, c, d] = (await readFile(logOf(folder), "utf8")).trimEnd().split("\n");
  for (const lines of [
    [a, c, d],
    [a, b, b, c, d],
    [a, c, b, d],
    [b, c, d],
  ]) {
    await writeFile(logOf(folder), `${lines.join("\n")}\n`);
    await expect(openJournal(folder)).rejects.toMatchObject({ code: "journal-damaged" });
  }
});

test("bytes are kept under their hash once, and checked whenever they are read", async () => {
  const folder = freshFolder();
  const journal = await openJournal(folder);
  const bytes = new TextEncoder().encode("Run,Hours\n1,2\n");
  // sha256sum (GNU coreutils 9.1) of the same bytes: printf 'Run,Hours\n1,2\n' | sha256sum
  const sha = "8daf2b342734ee4516f594a8122602eb9c038abf0b4105bacc58cfe2ba53be8a";
  expect(await journal.storeFile(bytes)).toBe(sha);
  expect(await journal.storeFile(bytes)).toBe(sha);
  expect(await readdir(join(folder, "files"))).toEqual([sha]);
  expect(Buffer.from(await journal.fileBytes(sha, "a.csv"))).toEqual(Buffer.from(bytes));
  await appendFile(join(folder, "files", sha), "x");
  await expect(journal.fileBytes(sha, "a.csv")).rejects.toMatchObject({
    code: "journal-file-damaged",
    facts: { file: "a.csv" },
  });
  // Storing the same bytes again mends them.
  await journal.storeFile(bytes);
  await journal.fileBytes(sha, "a.csv");
  await rm(join(folder, "files", sha));
  await expect(journal.fileBytes(sha, "a.csv")).rejects.toMatchObject({ code: "journal-file-missing" });
});

describe("when the disk is full", () => {
  /** Takes `room` more bytes, then fails as a full disk does: part of the last write is there. */
  function fullDisk() {
    const disk = { room: Number.POSITIVE_INFINITY, syncFails: false, cutFails: false };
    const failure = (code: string) => Object.assign(new Error("no space left on device"), { code });
    const openFile: OpenFile = async (path, flags) => {
      const file = await openOnDisk(path, flags);
      return {
        ...file,
        async write(bytes) {
          const fits = bytes.subarray(0, Math.min(bytes.length, disk.room));
          await file.write(fits);
          disk.room -= fits.length;
          if (fits.length < bytes.length) throw failure("ENOSPC");
        },
        async sync() {
          if (disk.syncFails) throw failure("EIO");
          await file.sync();
        },
        async truncate(length) {
          if (disk.cutFails) throw failure("EIO");
          await file.truncate(length);
        },
      };
    };
    return { disk, openFile };
  }

  test("an entry that does not fit is refused plainly, leaves nothing behind, and fits once there is room", async () => {
    const folder = freshFolder();
    const { disk, openFile } = fullDisk();
    const journal = await filled(folder, 1, openFile);
    const before = await readFile(logOf(folder));
    for (const room of [0, 1, 100]) {
      disk.room = room;
      await expect(journal.append(batch(2))).rejects.toMatchObject({
        code: "disk-full",
        message: expect.stringContaining("The disk is full"),
      });
      expect(await readFile(logOf(folder))).toEqual(before);
    }
    disk.room = Number.POSITIVE_INFINITY;
    await journal.append(batch(2));
    expect((await openJournal(folder)).entries).toHaveLength(3);
  });

  test("bytes that do not fit leave no file behind", async () => {
    const folder = freshFolder();
    const { disk, openFile } = fullDisk();
    const journal = await filled(folder, 1, openFile);
    disk.room = 3;
    await expect(journal.storeFile(new Uint8Array(10))).rejects.toMatchObject({ code: "disk-full" });
    expect(await readdir(join(folder, "files"))).toEqual([]);
  });

  test("an entry that cannot be synced is not promised, and is cut off again", async () => {
    const folder = freshFolder();
    const { disk, openFile } = fullDisk();
    const journal = await filled(folder, 1, openFile);
    disk.syncFails = true;
    await expect(journal.append(batch(2))).rejects.toMatchObject({ code: "write-failed" });
    disk.syncFails = false;
    expect((await openJournal(folder)).entries).toHaveLength(2);
  });

  test("where even cutting off fails, nothing more is written, and the next start finds every promise", async () => {
    const folder = freshFolder();
    const { disk, openFile } = fullDisk();
    const journal = await filled(folder, 1, openFile);
    Object.assign(disk, { room: 50, cutFails: true });
    await expect(journal.append(batch(2))).rejects.toMatchObject({ code: "disk-full" });
    Object.assign(disk, { room: Number.POSITIVE_INFINITY, cutFails: false });
    await expect(journal.append(batch(2))).rejects.toMatchObject({ code: "journal-stopped" });
    const again = await openJournal(folder);
    expect(again.entries).toHaveLength(2);
    expect(again.torn?.bytes).toHaveLength(50);
  });
});
