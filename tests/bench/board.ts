/**
 * What the board ("which tool may go out?") and the redress interval cost, for the sample fleet, 500 and 2,000 tools; writes
 * tests/bench/results/board.md.
 *
 *   npm run bench:board
 *
 * Processor time, once each, in the order in which a worker of the server meets them: derivation, then the board with its fits
 * and its forecast, then the board again with the fits known, then the interval of the main seal of the axial damper with its
 * simulated policies. The page reads curves on a grid after that and computes nothing.
 */
import { writeFileSync } from "node:fs";
import { defaultStudy } from "../../analysis/study/definition.ts";
import { runStudy } from "../../analysis/study/runStudy.ts";
import { shopData } from "../../analysis/study/shopData.ts";
import { defaultFleet } from "../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../datasets/sample-fleet/generator/simulateFleet.ts";

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

const head = [
  "# What the board and the interval cost",
  "",
  `Written by \`npm run bench:board\`. Seconds of processor time, once each, Node ${process.version}. The first board fits every`,
  "mode, foretells twelve months and looks back from four past dates; results are kept by their address, so a second reader waits",
  "for none of it. On the page a handle or an hours box reads a curve on a grid.",
  "",
  "| tools | runs | derivation | board, first | board, again | interval with policies |",
  "|---|---|---|---|---|---|",
];
const rows: string[] = [];
for (const serials of [defaultFleet.serials, 500, 2_000]) {
  rows.push(row(serials));
  writeFileSync(new URL("./results/board.md", import.meta.url), [...head, ...rows, ""].join("\n"));
  console.log(rows.at(-1));
}
