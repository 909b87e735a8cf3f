/**
 * What a large drop costs, over HTTP against the real server in a process of its own: lines a second, how soon other
 * requests are answered meanwhile, memory. Prints a table.
 *
 *   npx tsx tests/bench/records.ts              100,000 runs
 *   npx tsx tests/bench/records.ts 20000 store  so many, and stores them
 *
 * Measured once on two cores shared with other work (load average 4 to 8), Node 20.20, embedded store:
 *
 *   | what | measured |
 *   |---|---|
 *   | /api/state with nothing else to do | p95 10 ms |
 *   | 100,000 runs, 8.1 MB of CSV: read, mapped, compared | 6.8 s, 14,691 lines/s |
 *   | /api/state meanwhile, 151 times | median 4 ms, p95 11 ms, most 18 ms |
 *   | memory of server and worker, most so far | 919 MB |
 *   | stored, when it held the main process to the end | 11.0 s, one /api/state waited 9.3 s |
 *   | the same again, compared with 100,000 stored rows | 18.4 s, of which 10.6 s the first /api/state after storing |
 *   | the same as a workbook, 6.7 MB: read, mapped, compared | 11.4 s, 8,758 lines/s; /api/state p95 16 ms |
 *   | memory, most so far | 2,235 MB |
 *   | a workbook of 392 kB that unpacks to 400 MB | refused after 1.3 s |
 *
 * Since storing gives the event loop back, on the same cores with three to four times the other work (load average 18 to
 * 23, so that the same reading took 13.4 s instead of 6.8 s):
 *
 *   | what | measured |
 *   |---|---|
 *   | stored | 43.4 s; /api/state meanwhile p95 178 ms, most 1,042 ms |
 *   | first /api/state after storing | 4.7 s |
 *   | memory, most so far | 2,063 MB |
 */
import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { zipSync } from "fflate";
import type { DropPreview, DropProgress } from "../../analysis/index.ts";
import { AnalysisError } from "../../analysis/index.ts";
import { readWorkbook } from "../../server/intake/workbook/readWorkbook.ts";
import { handmadeWorkbook, workbookParts } from "../support/workbooks.ts";

const runs = Number(process.argv[2] ?? 100_000);
const alsoStore = process.argv[3] === "store";
const headers = ["Run no", "Serial", "Out", "In", "Hours", "Customer", "Well", "BHT degF", "Pulled because", "Notes"];

function runLine(index: number): readonly (string | number)[] {
  const day = (days: number) => new Date(Date.UTC(2015, 0, 1) + days * 86_400_000).toISOString().slice(0, 10);
  const out = Math.floor(index / 40) * 4;
  return [
    index + 1,
    `QX-${100 + (index % 40)}`,
    day(out),
    day(out + 3),
    (index % 90) + 0.5,
    `Example Energy ${index % 17}`,
    `Well ${index % 230}`,
    180 + (index % 120),
    index % 9 === 0 ? "Tool failure" : "Planned",
    index % 13 === 0 ? "gauge ring worn, see photo" : "",
  ];
}

const table: (readonly [string, string])[] = [];
const note = (what: string, value: string) => {
  table.push([what, value]);
  console.log(`${what}: ${value}`);
};
const seconds = (ms: number): string => `${(ms / 1000).toFixed(1)} s`;
const quantile = (times: readonly number[], share: number): number =>
  [...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor(times.length * share))] ?? Number.NaN;

/** Resident memory of a process and its threads, most so far, in MB (proc_pid_status(5), VmHWM). */
const mostMemory = (pid: number): number =>
  Math.round(Number(/VmHWM:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, "utf8"))?.[1] ?? Number.NaN) / 1024);

async function startChild(folder: string): Promise<{ readonly child: ChildProcess; readonly address: string }> {
  const main = fileURLToPath(new URL("../../server/main.ts", import.meta.url));
  const tsx = createRequire(import.meta.url).resolve("tsx");
  const env = { ...process.env, AFTERRUN_DATA: folder, PORT: "0" };
  const child = spawn(process.execPath, ["--import", tsx, main, "--no-sample"], {
    env,
    stdio: ["ignore", "pipe", "inherit"],
  });
  const address = await new Promise<string>((resolve, reject) => {
    child.stdout?.on("data", (said: Buffer) => {
      const found = /http:\/\/localhost:\d+/.exec(String(said));
      if (found !== null) resolve(found[0]);
    });
    child.once("exit", (code) => reject(new Error(`the server ended with ${code}`)));
  });
  return { child, address };
}

interface Watched {
  readonly done: boolean;
}

/** A connection that the server cut for being idle is opened again. */
const reach = (url: string, init?: RequestInit): Promise<Response> => fetch(url, init).catch(() => fetch(url, init));

/** Asks for the state, or something else, again and again until the work is done. */
async function askMeanwhile(address: string, work: Watched, path = "/api/state"): Promise<readonly number[]> {
  const times: number[] = [];
  while (!work.done) {
    const began = performance.now();
    const reply = await reach(`${address}${path}`);
    if (!reply.ok) throw new Error(await reply.text());
    await reply.arrayBuffer();
    times.push(performance.now() - began);
    await new Promise((resolve) => setTimeout(resolve, 40));
  }
  return times;
}

async function meanwhile<T>(
  address: string,
  work: () => Promise<T>,
): Promise<{ readonly result: T; readonly times: readonly number[]; readonly took: number }> {
  const watched = { done: false };
  const asking = askMeanwhile(address, watched);
  const began = performance.now();
  const result = await work().finally(() => {
    watched.done = true;
  });
  return { result, took: performance.now() - began, times: await asking };
}

const post = async (address: string, path: string, body: object): Promise<Response> =>
  await reach(`${address}${path}`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  });

async function drop(address: string, name: string, bytes: Uint8Array): Promise<DropPreview> {
  const form = new FormData();
  form.append("files", new Blob([Uint8Array.from(bytes)]), name);
  const begun = await reach(`${address}/api/drops`, {
    method: "POST",
    body: form,
    headers: { prefer: "respond-async" },
  });
  const { id }: DropProgress = await begun.json();
  const events = await reach(`${address}/api/drops/${id}`, { headers: { accept: "text/event-stream" } });
  const told = [...(await events.text()).matchAll(/event: (\w+)\ndata: (.*)\n/g)];
  const [, event, data = ""] = told.at(-1) ?? [];
  if (event !== "preview") throw new Error(`the drop was refused: ${data.slice(0, 300)}`);
  return JSON.parse(data);
}

async function measureDrop(address: string, name: string, bytes: Uint8Array): Promise<DropPreview> {
  const { result, times, took } = await meanwhile(address, () => drop(address, name, bytes));
  note(
    `${name}, ${(bytes.length / 1e6).toFixed(1)} MB: read, mapped, compared`,
    `${seconds(took)}, ${Math.round(result.counts.lines / (took / 1000))} lines/s`,
  );
  note(
    `  /api/state meanwhile, ${times.length} times`,
    `median ${Math.round(quantile(times, 0.5))} ms, p95 ${Math.round(quantile(times, 0.95))} ms, most ${Math.round(Math.max(...times))} ms`,
  );
  return result;
}

async function confirmed(address: string, preview: DropPreview): Promise<DropPreview> {
  const open = preview.confirmations.filter(({ answered }) => !answered).map(({ id }) => id);
  if (open.length === 0) return preview;
  const reply = await post(address, `/api/drops/${preview.id}/answers`, { confirm: open });
  return await confirmed(address, await reply.json());
}

function measureBomb(): void {
  const parts = workbookParts({ tabs: [{ name: "Log", rows: [["a"]] }] });
  const bomb = zipSync({ ...parts, "xl/worksheets/sheet1.xml": new Uint8Array(400_000_000).fill(32) }, { level: 6 });
  const began = performance.now();
  try {
    readWorkbook(bomb, "bomb.xlsx");
  } catch (error) {
    const code = error instanceof AnalysisError ? error.code : String(error);
    note(
      `a workbook of ${Math.round(bomb.length / 1000)} kB that unpacks to 400 MB`,
      `${code} after ${seconds(performance.now() - began)}`,
    );
  }
}

const folder = mkdtempSync(join(tmpdir(), "afterrun-bench-"));
const { child, address } = await startChild(folder);
try {
  const lines = Array.from({ length: runs }, (_, index) => runLine(index));
  const quiet = await meanwhile(address, () => new Promise<void>((resolve) => setTimeout(resolve, 2_000)));
  note("/api/state with nothing else to do", `p95 ${Math.round(quantile(quiet.times, 0.95))} ms`);
  const csv = new TextEncoder().encode([headers, ...lines].map((cells) => cells.join(",")).join("\n"));
  const preview = await measureDrop(address, "runs.csv", csv);
  note("  memory, most so far", `${mostMemory(child.pid ?? 0)} MB`);
  if (alsoStore) {
    const ready = await confirmed(address, preview);
    const watched = { done: false };
    const asking = askMeanwhile(address, watched, `/api/rows?${new URLSearchParams({ ref: 'runs:["7"]' })}`);
    const { took, times } = await meanwhile(address, async () => {
      const reply = await post(address, `/api/drops/${ready.id}/store`, { who: "AB" });
      if (!reply.ok) throw new Error(await reply.text());
    });
    note(
      "  stored",
      `${seconds(took)}; /api/state meanwhile p95 ${Math.round(quantile(times, 0.95))} ms, most ${Math.round(Math.max(...times))} ms`,
    );
    watched.done = true;
    const rows = await asking;
    note(
      "  /api/rows meanwhile",
      `${rows.length} times, p95 ${Math.round(quantile(rows, 0.95))} ms, most ${Math.round(Math.max(...rows))} ms`,
    );
    note("  memory, most so far", `${mostMemory(child.pid ?? 0)} MB`);
    const began = performance.now();
    await (await reach(`${address}/api/state`)).arrayBuffer();
    note("  first /api/state after storing", seconds(performance.now() - began));
    await measureDrop(address, "runs.csv", csv);
  } else await reach(`${address}/api/drops/${preview.id}`, { method: "DELETE" });
  await measureDrop(address, "runs.xlsx", handmadeWorkbook({ tabs: [{ name: "Runs", rows: [headers, ...lines] }] }));
  note("  memory, most so far", `${mostMemory(child.pid ?? 0)} MB`);
  measureBomb();
  console.log(
    ["", "| what | measured |", "|---|---|", ...table.map(([what, value]) => `| ${what.trim()} | ${value} |`)].join(
      "\n",
    ),
  );
} finally {
  child.kill("SIGTERM");
  await new Promise((resolve) => child.once("exit", resolve));
  rmSync(folder, { recursive: true, force: true });
}
