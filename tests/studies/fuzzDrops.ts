/**
 * Ten thousand drops made to break the reader. Seeded and resumable: one line a slice of seeds in `.cache/fuzz-drops`.
 *
 *   npx tsx tests/studies/fuzzDrops.ts                 seeds 0 to 9,999, then the table in tests/studies/results
 *   npx tsx tests/studies/fuzzDrops.ts 50              stop after 50 seconds; the next call goes on
 *   npx tsx tests/studies/fuzzDrops.ts seed 1234       one seed, with what went wrong
 */
import { appendFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { checkFuzzedDrop } from "../support/checkFuzzedDrop.ts";

const SEEDS = 10_000;
const SLICE = 250;
const folder = new URL("../../.cache/fuzz-drops/", import.meta.url);
const slices = new URL("slices.jsonl", folder);

interface Slice {
  readonly from: number;
  readonly outcomes: Readonly<Record<string, number>>;
  readonly lines: number;
  readonly setAside: number;
  readonly slowestMs: number;
  readonly failed: readonly { readonly seed: number; readonly why: string }[];
}

function runSlice(from: number): Slice {
  const outcomes: Record<string, number> = {};
  const failed: { seed: number; why: string }[] = [];
  let [lines, setAside, slowestMs] = [0, 0, 0];
  for (let seed = from; seed < from + SLICE; seed++) {
    const began = performance.now();
    try {
      const found = checkFuzzedDrop(seed);
      outcomes[found.outcome] = (outcomes[found.outcome] ?? 0) + 1;
      lines += found.lines;
      setAside += found.setAside;
    } catch (error) {
      const why = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
      failed.push({ seed, why: why.slice(0, 600) });
    }
    slowestMs = Math.max(slowestMs, performance.now() - began);
  }
  return { from, outcomes, lines, setAside, slowestMs, failed };
}

const done = (): readonly Slice[] =>
  existsSync(slices)
    ? readFileSync(slices, "utf8")
        .split("\n")
        .filter((line) => line !== "")
        .map((line): Slice => JSON.parse(line))
    : [];

function table(all: readonly Slice[]): string {
  const outcomes = new Map<string, number>();
  for (const slice of all)
    for (const [code, count] of Object.entries(slice.outcomes)) outcomes.set(code, (outcomes.get(code) ?? 0) + count);
  const sum = (of: (slice: Slice) => number) => all.reduce((total, slice) => total + of(slice), 0);
  const failed = all.flatMap((slice) => slice.failed);
  return [
    "# Drops made to break the reader",
    "",
    `${sum((slice) => Object.values(slice.outcomes).reduce((a, b) => a + b, 0)) + failed.length} drops, seeds from 0 (\`npx tsx tests/studies/fuzzDrops.ts\`). ${sum((slice) => slice.lines)} lines read and accounted for, ${sum((slice) => slice.setAside)} of them set aside. Failed: ${failed.length}. Slowest: ${Math.round(Math.max(0, ...all.map((slice) => slice.slowestMs)))} ms.`,
    "",
    "| outcome | drops |",
    "|---|---|",
    ...[...outcomes].sort((a, b) => b[1] - a[1]).map(([code, count]) => `| ${code} | ${count} |`),
    ...failed.map(({ seed, why }) => `| failed, seed ${seed} | ${why.replaceAll("|", "/")} |`),
    "",
  ].join("\n");
}

const [first, second] = process.argv.slice(2);
if (first === "seed") console.log(checkFuzzedDrop(Number(second)));
else {
  mkdirSync(folder, { recursive: true });
  const end = performance.now() + Number(first ?? Number.POSITIVE_INFINITY) * 1_000;
  const known = new Set(done().map(({ from }) => from));
  for (let from = 0; from < SEEDS && performance.now() < end; from += SLICE) {
    if (known.has(from)) continue;
    const slice = runSlice(from);
    appendFileSync(slices, `${JSON.stringify(slice)}\n`);
    for (const { seed, why } of slice.failed) console.log(`seed ${seed}: ${why}`);
  }
  const all = done();
  console.log(table(all));
  if (all.length * SLICE >= SEEDS) {
    const results = new URL("results/", import.meta.url);
    mkdirSync(results, { recursive: true });
    writeFileSync(new URL("fuzz-drops.md", results), table(all));
  }
  if (all.some(({ failed }) => failed.length > 0)) process.exitCode = 1;
}
