/** The command line for tests: called in this process, or started as a person would. */
import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import { runCommandLine } from "../../server/commands/runCommandLine.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));

export interface Ended {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Where the store is, as the environment says it. */
export interface StorePlace {
  readonly data: string;
  /** Empty: the embedded store. */
  readonly url?: string;
}

const environment = ({ data, url = "" }: StorePlace) => ({ ...process.env, AFTERRUN_DATA: data, DATABASE_URL: url });

/** Runs a command without starting a process for it: all but the start and the end of one. */
export async function callAfterrun(place: StorePlace, ...words: readonly string[]): Promise<Ended> {
  let [out, err] = ["", ""];
  const code = await runCommandLine(words, {
    out: (line) => {
      out += `${line}\n`;
    },
    err: (line) => {
      err += `${line}\n`;
    },
    env: environment(place),
    clock: () => new Date(),
  });
  return { code, out, err };
}

const spawned = (place: StorePlace, words: readonly string[]) =>
  spawn(process.execPath, ["--import", "tsx", "server/cli.ts", ...words], { cwd: root, env: environment(place) });

/** As `startAfterrun`, with nobody who reads what it says. */
export function startUnread(place: StorePlace, ...words: readonly string[]): Promise<Omit<Ended, "out">> {
  const child = spawned(place, words);
  let err = "";
  child.stdout.destroy();
  child.stderr.on("data", (part) => {
    err += part;
  });
  return new Promise((resolve) => child.on("close", (code) => resolve({ code, err })));
}

/** Starts the command line as a process of its own. */
export function startAfterrun(place: StorePlace, ...words: readonly string[]): Promise<Ended> {
  const child = spawned(place, words);
  let [out, err] = ["", ""];
  child.stdout.on("data", (part) => {
    out += part;
  });
  child.stderr.on("data", (part) => {
    err += part;
  });
  return new Promise((resolve) => child.on("close", (code) => resolve({ code, out, err })));
}
