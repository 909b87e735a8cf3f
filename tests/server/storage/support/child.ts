import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { fileURLToPath } from "node:url";

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

/** Starts a TypeScript file of this folder in a process of its own. */
export function startChild(file: string, args: readonly string[]): Child {
  const path = fileURLToPath(new URL(`./${file}`, import.meta.url));
  const child: ChildProcess = spawn(process.execPath, ["--import", "tsx", path, ...args], {
    stdio: ["pipe", "pipe", "pipe"],
  });
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
