import { mkdir, mkdtemp, readdir, readFile, rm, utimes, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import {
  makeFolder,
  type OpenFile,
  openOnDisk,
  syncChanged,
  writeWhole,
} from "../../../server/storage/durableFiles.ts";
import { openJournal } from "../../../server/storage/journal.ts";

let parent: string;
beforeAll(async () => {
  parent = await mkdtemp(join(tmpdir(), "afterrun-files-"));
});
afterAll(() => rm(parent, { recursive: true, force: true }));

function spied() {
  const calls: string[] = [];
  const openFile: OpenFile = async (path, flags) => {
    const file = await openOnDisk(path, flags);
    return {
      truncate: (length) => file.truncate(length),
      async write(bytes) {
        await file.write(bytes);
        calls.push(`write ${bytes.length}`);
      },
      async sync() {
        await file.sync();
        calls.push("sync");
      },
      async close() {
        await file.close();
        calls.push("close");
      },
    };
  };
  return { calls, openFile };
}

test("a journal entry and the bytes it names are synced before anybody hears of them", async () => {
  const { calls, openFile } = spied();
  const journal = await openJournal(join(parent, "journal"), openFile);
  await journal.storeFile(new Uint8Array(7));
  expect(calls).toEqual(["write 7", "sync", "close"]);
  await journal.append({ kind: "begun", journal: "j", format: 1 });
  const { length } = await readFile(journal.logFile);
  expect(calls.slice(3)).toEqual([`write ${length}`, "sync", "close"]);
});

test("a file written whole has its name only when it is complete, and replaces an older one", async () => {
  const path = join(parent, "whole");
  await writeWhole(openOnDisk, path, new Uint8Array([1]));
  await writeWhole(openOnDisk, path, new Uint8Array([2]));
  expect([...(await readFile(path))]).toEqual([2]);
  const failing: OpenFile = async (name, flags) => ({
    ...(await openOnDisk(name, flags)),
    sync: () => Promise.reject(new Error("no")),
  });
  await expect(writeWhole(failing, path, new Uint8Array([3]))).rejects.toThrow("no");
  expect([...(await readFile(path))]).toEqual([2]);
  expect((await readdir(parent)).filter((name) => name.endsWith(".part"))).toEqual([]);
});

test("only files written since are synced", async () => {
  const folder = join(parent, "data");
  await makeFolder(join(folder, "deep", "er"));
  await mkdir(join(folder, "old"));
  const old = new Date(Date.now() - 60_000);
  for (const name of ["a", "old/b", "deep/er/c"]) {
    await writeFile(join(folder, name), name);
    await utimes(join(folder, name), old, old);
  }
  expect(await syncChanged(folder, Date.now() - 5_000)).toBe(0);
  await writeFile(join(folder, "deep", "er", "c"), "again");
  await writeFile(join(folder, "d"), "new");
  expect(await syncChanged(folder, Date.now() - 5_000)).toBe(2);
  expect(await syncChanged(folder, 0)).toBe(4);
});
