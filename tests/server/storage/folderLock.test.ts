import { mkdir, mkdtemp, readdir, rm, writeFile } from "node:fs/promises";
import { hostname, tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type FolderLock, lockFolder } from "../../../server/storage/folderLock.ts";
import { startChild } from "./support/child.ts";

let parent: string;
let count = 0;
beforeAll(async () => {
  parent = await mkdtemp(join(tmpdir(), "afterrun-lock-"));
});
afterAll(() => rm(parent, { recursive: true, force: true }));
const freshFolder = () => join(parent, String(++count));

test("a folder is locked once; the refusal names the holder, and a released lock can be taken again", async () => {
  const folder = freshFolder();
  const lock = await lockFolder(folder);
  expect(lock.tookOverFrom).toBeNull();
  await expect(lockFolder(folder)).rejects.toMatchObject({
    code: "folder-in-use",
    facts: { folder, pid: process.pid, host: hostname() },
    message: expect.stringMatching(
      new RegExp(`${folder} is in use by process ${process.pid} on this machine since \\d{4}-`),
    ),
  });
  await lock.release();
  const again = await lockFolder(folder);
  expect(again.tookOverFrom).toBeNull();
  await again.release();
});

test("the lock of a killed process is taken over, and that is said", async () => {
  const folder = freshFolder();
  const child = await startChild("lockChild", [folder]);
  expect(await child.nextLine()).toBe("locked");
  await expect(lockFolder(folder)).rejects.toMatchObject({ code: "folder-in-use", facts: { pid: child.pid } });
  child.kill();
  await child.ended();
  const lock = await lockFolder(folder);
  expect(lock.tookOverFrom?.pid).toBe(child.pid);
  await lock.release();
});

test("of processes that race for a folder, its last holder dead, exactly one wins", async () => {
  const folder = freshFolder();
  for (let round = 0; round < 2; round += 1) {
    const at = String(Date.now() + 1_000);
    const children = await Promise.all([1, 2, 3].map(() => startChild("lockChild", [folder, at])));
    const said = await Promise.all(children.map((child) => child.nextLine()));
    expect([...said].sort()).toEqual(["folder-in-use", "folder-in-use", "locked"]);
    // Killed, not ended: the next round races for a stale lock.
    for (const child of children) child.kill();
    await Promise.all(children.map((child) => child.ended()));
  }
});

test("of many tries at once in one process exactly one wins, over a stale lock as over none", async () => {
  for (const stale of [false, true, false, true]) {
    const folder = freshFolder();
    await mkdir(join(folder, "lock"), { recursive: true });
    if (stale) await writeHolder(folder, 7, { pid: 2 ** 22 + 1, process: "gone" });
    const tries = await Promise.allSettled(Array.from({ length: 40 }, () => lockFolder(folder)));
    const won = tries.filter((each): each is PromiseFulfilledResult<FolderLock> => each.status === "fulfilled");
    expect(won).toHaveLength(1);
    for (const each of tries) {
      if (each.status === "rejected") expect(each.reason).toMatchObject({ code: "folder-in-use" });
    }
    expect(await readdir(join(folder, "lock"))).toEqual([stale ? "8.json" : "1.json"]);
    await won[0]?.value.release();
  }
});

test("a process id that was given to another process since does not hold the lock", async () => {
  const folder = freshFolder();
  await writeHolder(folder, 1, { pid: process.pid, process: "an earlier boot 1" });
  const lock = await lockFolder(folder);
  expect(lock.tookOverFrom?.pid).toBe(process.pid);
  await lock.release();
});

test("a holder on another machine is never taken for dead; the refusal says which file to delete", async () => {
  const folder = freshFolder();
  await writeHolder(folder, 3, { pid: 2 ** 22 + 1, host: "workshop-pc", process: null });
  await expect(lockFolder(folder)).rejects.toMatchObject({
    code: "folder-in-use-elsewhere",
    message: expect.stringMatching(/"workshop-pc".*delete .*3\.json/),
  });
});

test("a lock file that does not read is waited for while it may be half written, then belongs to nobody", async () => {
  const folder = freshFolder();
  await mkdir(join(folder, "lock"), { recursive: true });
  await writeFile(join(folder, "lock", "4.json"), "");
  const asked = Date.now();
  await (await lockFolder(folder)).release();
  expect(Date.now() - asked).toBeGreaterThan(1_000);
  expect(await readdir(join(folder, "lock"))).toEqual(["5.json"]);
});

async function writeHolder(folder: string, number: number, holder: object): Promise<void> {
  await mkdir(join(folder, "lock"), { recursive: true });
  const whole = { host: hostname(), since: "2026-01-01T00:00:00.000Z", released: false, ...holder };
  await writeFile(join(folder, "lock", `${number}.json`), JSON.stringify(whole));
}
