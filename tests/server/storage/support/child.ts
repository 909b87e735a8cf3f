import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { readdir, rm, symlink } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "vite";
import { migrationsFolder } from "../../../../server/storage/migrationsFolder.ts";

export interface Child {
  readonly pid: number;
  /** The next whole line it writes, or null when it ends without. */
  nextLine(): Promise<string | null>;
  /** Everything it wrote to its error stream. */
  errors(): string;
  endInput(): void;
  kill(): void;
  /** Signal or exit code it ended with. */
  ended(): Promise<string | number | null>;
}

/** Files that are started as processes of their own, built once: read from source, each start would cost a second. */
const children = ["killedChild", "historyChild", "lockChild"] as const;
const root = fileURLToPath(new URL("../../../../", import.meta.url));
let built: Promise<string> | null = null;

async function buildChildren(): Promise<string> {
  const cache = join(root, ".cache");
  const folder = join(cache, `children-${process.pid}`);
  await removeOld(cache);
  const input = children.map((name) => fileURLToPath(new URL(`./${name}.ts`, import.meta.url)));
  await build({
    configFile: false,
    logLevel: "silent",
    root,
    build: { ssr: true, outDir: folder, emptyOutDir: true, minify: false, rollupOptions: { input } },
  });
  // The migrations stand beside the code that applies them.
  await symlink(migrationsFolder, join(folder, "assets", "migrations"), "junction");
  await symlink(migrationsFolder, join(folder, "migrations"), "junction");
  return folder;
}

/** Removes what earlier runs built. */
async function removeOld(cache: string): Promise<void> {
  for (const name of await readdir(cache).catch(() => [])) {
    const pid = /^children-(\d+)$/.exec(name)?.[1];
    if (pid !== undefined && !isAlive(Number(pid))) await rm(join(cache, name), { recursive: true, force: true });
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

/** Starts a file of this folder in a process of its own. */
export async function startChild(file: (typeof children)[number], args: readonly string[]): Promise<Child> {
  built ??= buildChildren();
  const path = join(await built, `${file}.js`);
  const child: ChildProcess = spawn(process.execPath, [path, ...args], { stdio: ["pipe", "pipe", "pipe"] });
  const lines: string[] = [];
  const waiting: ((line: string | null) => void)[] = [];
  let rest = "";
  let errors = "";
  let over = false;
  child.stderr?.setEncoding("utf8").on("data", (text: string) => {
    errors += text;
  });
  child.stdout?.setEncoding("utf8").on("data", (text: string) => {
    const parts = (rest + text).split("\n");
    rest = parts.pop() ?? "";
    for (const line of parts) {
      const next = waiting.shift();
      if (next === undefined) lines.push(line);
      else next(line);
    }
  });
  const ended = once(child, "close").then(([code, signal]: (string | number | null)[]) => {
    over = true;
    for (const next of waiting.splice(0)) next(null);
    return signal ?? code ?? null;
  });
  return {
    pid: child.pid ?? 0,
    nextLine: () => {
      const line = lines.shift();
      if (line !== undefined || over) return Promise.resolve(line ?? null);
      return new Promise((resolve) => waiting.push(resolve));
    },
    errors: () => errors,
    endInput: () => child.stdin?.end(),
    kill: () => child.kill("SIGKILL"),
    ended: () => ended,
  };
}
