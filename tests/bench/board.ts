/**
 * What the board ("which tool may go out?") and the redress interval cost, for the sample fleet, 500 and 2,000 tools; writes
 * tests/bench/results/board.md.
 *
 *   npm run build && npm run bench:board
 *
 * Processor time, once each, in the order in which a worker of the server meets them: derivation, then the board with its fits
 * and its forecast, then the board again with the fits known, then the interval of the main seal of the axial damper with its
 * simulated policies. The page reads curves on a grid after that and computes nothing. Last, 2,000 tools as a reader meets them:
 * the real server, the built page, a real browser.
 */

import { writeFileSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { defaultStudy } from "../../analysis/study/definition.ts";
import { runStudy } from "../../analysis/study/runStudy.ts";
import { shopData } from "../../analysis/study/shopData.ts";
import { defaultFleet } from "../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../datasets/sample-fleet/generator/simulateFleet.ts";
import { startServer } from "../../server/start.ts";
import { openStore } from "../../server/storage/openStore.ts";
import { launchBrowser } from "../support/browser.ts";
import { batchOf } from "../support/smallShop.ts";

const context = { dataHash: "bench", statements: [], sample: true };
const seal = { ...defaultStudy("redress interval").scope, toolType: "axial damper", item: "main seal" };

function secondsOf(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1e6;
}

function row(serials: number): string {
  const { recorded } = simulateFleet({ ...defaultFleet, serials });
  const board = defaultStudy("fleet");
  const derivation = secondsOf(() => shopData(recorded, board));
  const first = secondsOf(() => runStudy(board, recorded, context));
  const again = secondsOf(() => runStudy(board, recorded, context));
  const interval = secondsOf(() => runStudy({ ...defaultStudy("redress interval"), scope: seal }, recorded, context));
  const cells = [derivation, first, again, interval].map((seconds) => seconds.toFixed(1));
  return `| ${serials} | ${(recorded.runs ?? []).length} | ${cells.join(" | ")} |`;
}

const MANY = 2_000;

/** Seconds of waiting, wall clock, for whoever asks for the board of many tools, and for each key in an hours box. */
async function asAReader(): Promise<string[]> {
  const folder = await mkdtemp(join(tmpdir(), "afterrun-bench-"));
  const store = await openStore({ folder });
  await store.storeBatch(batchOf(simulateFleet({ ...defaultFleet, serials: MANY }).recorded));
  await store.close();
  const server = await startServer({ folder, port: 0, sample: false, say: () => undefined });
  const browser = await launchBrowser();
  try {
    const since = (began: number): string => ((performance.now() - began) / 1000).toFixed(2);
    const first = performance.now();
    const reply = await fetch(`${server.address}api/fleet`, { headers: { accept: "text/event-stream" } });
    let begun = "";
    let bytes = 0;
    for await (const part of reply.body ?? []) {
      if (begun === "") begun = since(first);
      bytes += part.length;
    }
    const whole = since(first);
    const page = await (await browser.newContext({ viewport: { width: 1280, height: 1000 } })).newPage();
    const opened = performance.now();
    await page.goto(`${server.address}fleet`);
    await page.locator(".hours-box").first().waitFor();
    const drawn = since(opened);
    const keys: number[] = [];
    for (let hours = 30; hours < 50; hours++) {
      const pressed = performance.now();
      await page.locator(".hours-box").first().fill(String(hours));
      await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
      keys.push(performance.now() - pressed);
    }
    const middle = keys.sort((a, b) => a - b)[keys.length / 2] ?? Number.NaN;
    return [
      "",
      `${MANY} tools as a reader meets them, seconds by the clock: first board ${whole} (first word of progress after ${begun}; ${(bytes / 1e6).toFixed(1)} MB),`,
      `the page of the next reader drawn after ${drawn}, another number in an hours box ${(middle / 1000).toFixed(2)} until the next picture.`,
    ];
  } finally {
    await browser.close();
    await server.close();
    await rm(folder, { recursive: true, force: true });
  }
}

const head = [
  "# What the board and the interval cost",
  "",
  `Written by \`npm run bench:board\`. Seconds of processor time, once each, Node ${process.version}. The first board fits every`,
  "mode, reads the heat in it and foretells twelve months; results are kept by their address, so a second reader waits",
  "for none of it. On the page a handle or an hours box reads a curve on a grid.",
  "",
  "| tools | runs | derivation | board, first | board, again | interval with policies |",
  "|---|---|---|---|---|---|",
];
const rows: string[] = [];
const write = (more: readonly string[] = []) =>
  writeFileSync(new URL("./results/board.md", import.meta.url), [...head, ...rows, ...more, ""].join("\n"));
for (const serials of [defaultFleet.serials, 500, MANY]) {
  rows.push(row(serials));
  write();
  console.log(rows.at(-1));
}
const met = await asAReader();
write(met);
console.log(met.join("\n"));
