/**
 * One process a folder: the embedded engine does not lock its files, and two on one folder destroy them.
 *
 * Lock files are numbered (`lock/1.json`, `lock/2.json`, ...) and the highest number is the lock. Who finds the holder
 * of number n dead or gone makes number n + 1, which the file system lets exactly one process do; a process slow
 * enough to make a number that is no longer the highest sees so and gives it back. A number is never made twice,
 * because a holder that leaves marks its file instead of deleting it.
 */
import { randomUUID } from "node:crypto";
import { readFileSync } from "node:fs";
import { link, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { hostname } from "node:os";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";
import { makeFolder } from "./durableFiles.ts";
import { StorageError } from "./storageError.ts";

interface Holder {
  readonly pid: number;
  readonly host: string;
  /** When the lock was taken, for the message. */
  readonly since: string;
  /** Tells this process from a later one with the same id; null where the system does not say. */
  readonly process: string | null;
  readonly released: boolean;
}

export interface FolderLock {
  /** The dead process whose lock was taken over, if any. */
  readonly tookOverFrom: { readonly pid: number; readonly since: string } | null;
  release(): Promise<void>;
}

/**
 * Takes the lock of a folder or refuses, at once.
 *
 * Errors  "folder-in-use" names a living holder; "folder-in-use-elsewhere" one on another machine, whose life cannot
 *         be seen from here.
 */
export async function lockFolder(folder: string): Promise<FolderLock> {
  const locks = join(folder, "lock");
  await makeFolder(locks);
  for (;;) {
    const highest = await highestNumber(locks);
    const holder = highest === 0 ? null : await readHolder(pathOf(locks, highest));
    if (holder === "being written") {
      await setTimeout(50);
      continue;
    }
    if (holder !== null) refuseIfHeld(folder, pathOf(locks, highest), holder);

    const number = highest + 1;
    const mine: Holder = {
      pid: process.pid,
      host: hostname(),
      since: new Date().toISOString(),
      process: processIdentity(process.pid),
      released: false,
    };
    if (!(await makeOnce(locks, number, mine))) continue;
    if ((await highestNumber(locks)) !== number) {
      await rm(pathOf(locks, number), { force: true });
      continue;
    }
    await removeBelow(locks, number);
    return {
      tookOverFrom: holder === null || holder.released ? null : { pid: holder.pid, since: holder.since },
      release: () => replace(locks, number, { ...mine, released: true }),
    };
  }
}

function pathOf(locks: string, number: number): string {
  return join(locks, `${number}.json`);
}

async function numbersIn(locks: string): Promise<readonly number[]> {
  return (await readdir(locks)).flatMap((name) => {
    const match = /^(\d+)\.json$/.exec(name);
    return match === null ? [] : [Number(match[1])];
  });
}

async function highestNumber(locks: string): Promise<number> {
  return Math.max(0, ...(await numbersIn(locks)));
}

async function removeBelow(locks: string, number: number): Promise<void> {
  for (const lower of await numbersIn(locks)) {
    if (lower < number) await rm(pathOf(locks, lower), { force: true });
  }
}

/**
 * Null where the file is gone, or does not read and has long been there: its writer died. On a file system without
 * links a young one may be half written.
 */
async function readHolder(path: string): Promise<Holder | "being written" | null> {
  try {
    return JSON.parse(await readFile(path, "utf8")) as Holder;
  } catch {
    const found = await stat(path).catch(() => null);
    return found !== null && Date.now() - found.mtimeMs < 2_000 ? "being written" : null;
  }
}

/** The file appears under its number complete, and only if nobody else made that number. */
async function makeOnce(locks: string, number: number, holder: Holder): Promise<boolean> {
  const passing = join(locks, `${randomUUID()}.part`);
  await writeFile(passing, JSON.stringify(holder));
  try {
    await link(passing, pathOf(locks, number));
    return true;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "EEXIST") return false;
    if (code !== "EPERM" && code !== "ENOTSUP" && code !== "ENOSYS" && code !== "EOPNOTSUPP") throw error;
    // A file system without links: the number is still made by one process only.
    return await writeFile(pathOf(locks, number), JSON.stringify(holder), { flag: "wx" }).then(
      () => true,
      (again: NodeJS.ErrnoException) => {
        if (again.code === "EEXIST") return false;
        throw again;
      },
    );
  } finally {
    await rm(passing, { force: true });
  }
}

async function replace(locks: string, number: number, holder: Holder): Promise<void> {
  const passing = join(locks, `${randomUUID()}.part`);
  await writeFile(passing, JSON.stringify(holder));
  await rename(passing, pathOf(locks, number));
}

function refuseIfHeld(folder: string, file: string, holder: Holder): void {
  if (holder.released) return;
  const facts = { folder, pid: holder.pid, host: holder.host, since: holder.since, file };
  if (holder.host !== hostname()) throw new StorageError("folder-in-use-elsewhere", facts);
  if (isAlive(holder)) throw new StorageError("folder-in-use", facts);
}

function isAlive(holder: Holder): boolean {
  try {
    process.kill(holder.pid, 0);
  } catch (error) {
    // EPERM: it runs, under another user.
    if ((error as NodeJS.ErrnoException).code !== "EPERM") return false;
  }
  const now = processIdentity(holder.pid);
  return holder.process === null || now === null || now === holder.process;
}

/** Boot and start tick of a process (Linux): process ids are used again, above all in containers. */
function processIdentity(pid: number): string | null {
  try {
    const boot = readFileSync("/proc/sys/kernel/random/boot_id", "utf8").trim();
    // The name, in brackets, may hold blanks; the fields after it do not. Start time is field 22, state is field 3.
    const afterName = readFileSync(`/proc/${pid}/stat`, "utf8")
      .replace(/^.*\) /s, "")
      .split(" ");
    return `${boot} ${afterName[19]}`;
  } catch {
    return null;
  }
}
