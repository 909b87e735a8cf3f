/**
 * Do the decisions hold? Simulated fleets of known truth: what the recommended interval costs over the best one under the
 * true laws, whether the limit keeps the true chance under the allowed one, and where what came in the last year lies among
 * the futures forecast a year before. Seeded and resumable: one line a seed in `.cache/decision-study`.
 *
 *   npm run decision-study          200 seeds, then tests/studies/results/decision-study.md
 *   npm run decision-study -- 40    so many seeds in all
 *   npm run decision-study -- table the table from what has been run
 */
import { appendFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { costRate, onGrid } from "../../analysis/decisions/costRate.ts";
import type { ModeLaw } from "../../analysis/decisions/redressModel.ts";
import { defaultStudy, usualDecision } from "../../analysis/study/definition.ts";
import { runStudy } from "../../analysis/study/runStudy.ts";
import { cleanFleet } from "../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../datasets/sample-fleet/generator/simulateFleet.ts";
import { modeTruths } from "../../datasets/sample-fleet/generator/truth.ts";

interface StudyRow {
  readonly seed: number;
  readonly failures: number;
  readonly pays: string;
  readonly age: number | null;
  /** Share of the true cost at the recommended age that the true optimum saves. */
  readonly regret: number | null;
  readonly regretForetold: number | null;
  /** The range of the optimum holds the true one. */
  readonly inRange: boolean | null;
  readonly limit: number | null;
  /** True chance of a stopped job before the limit; the limit holds where it is at most the allowed one. */
  readonly chanceAtLimit: number | null;
  readonly forecast: number | null;
  readonly actual: number | null;
  readonly lastYear: number | null;
  readonly place: number | null;
  readonly inForecast: boolean | null;
}

const folder = ".cache/decision-study";
const file = `${folder}/rows.jsonl`;
const results = "tests/studies/results/decision-study.md";
const SEEDS = 200;
const FIRST_SEED = 5_000;
const ALLOWED = 0.1;
const RATIO = 10;
const context = { dataHash: "simulated", statements: [], sample: true };

/** The main seal as the generator has it without effects: extrusion, then a leak that stops the job. */
const lawOf = (mode: string) => {
  const found = modeTruths.find((one) => one.item === "main seal" && one.mode === mode);
  if (!found) throw new Error(`no truth for ${mode}`);
  return found.law;
};
const truth: readonly ModeLaw[] = [{ kind: "linked", defect: lawOf("extrusion"), delay: lawOf("leak") }];
const trueCost = costRate(truth, { planned: 1, modes: [{ stops: RATIO, found: 0 }] }, 2, 400);

function runSeed(seed: number): StudyRow {
  const { recorded } = simulateFleet({ ...cleanFleet, serials: 30, seed });
  const decision = { ...usualDecision, plannedCost: 1, failureCost: RATIO, foundCost: 0, allowedChance: ALLOWED };
  const interval = runStudy(
    { ...defaultStudy("redress interval", { toolType: "axial damper", item: "main seal" }), decision },
    recorded,
    context,
  );
  if (interval.kind !== "redress interval") throw new Error(interval.kind);
  const age = interval.recommended?.age ?? null;
  const limit = interval.risk.beforeRedress.age;
  const { lower, upper } = interval.optimum;
  const end = interval.provenance.cutoff;
  const board = runStudy(
    { ...defaultStudy("fleet"), cutoff: `${Number(end.slice(0, 4)) - 1}${end.slice(4)}` },
    recorded,
    context,
  );
  if (board.kind !== "fleet") throw new Error(board.kind);
  const { forecast } = board;
  const actual = forecast?.actual ?? null;
  return {
    seed,
    failures: interval.modes.find(({ kind }) => kind === "linked")?.failures ?? 0,
    pays: interval.verdict.pays,
    age,
    regret: age === null ? null : 1 - trueCost.leastRate / onGrid(trueCost.rate, 2, age),
    regretForetold: interval.recommended?.regretMean ?? null,
    inRange:
      lower === null || upper === null || trueCost.optimalAge === null
        ? null
        : lower <= trueCost.optimalAge && trueCost.optimalAge <= upper,
    limit,
    chanceAtLimit: limit === null ? null : 1 - onGrid(trueCost.cycle.running, 2, limit),
    forecast: forecast?.failures.mean ?? null,
    actual: actual?.failures ?? null,
    lastYear: forecast?.lastYear ?? null,
    place: actual?.place ?? null,
    inForecast:
      actual === null || forecast === null
        ? null
        : forecast.failures.lower <= actual.failures && actual.failures <= forecast.failures.upper,
  };
}

function known(): StudyRow[] {
  if (!existsSync(file)) return [];
  return readFileSync(file, "utf8")
    .split("\n")
    .filter(Boolean)
    .map((line): StudyRow => JSON.parse(line));
}

function writeTable(rows: readonly StudyRow[]): void {
  const given = <T>(values: readonly (T | null)[]): T[] => values.filter((value): value is T => value !== null);
  const mean = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0) / values.length;
  const share = (values: readonly boolean[]): string => {
    const p = values.filter(Boolean).length / values.length;
    return `${(100 * p).toFixed(1)} % (± ${(200 * Math.sqrt((p * (1 - p)) / values.length)).toFixed(1)}, ${values.length} fleets)`;
  };
  const percent = (value: number): string => `${(100 * value).toFixed(1)} %`;
  const regrets = given(rows.map(({ regret }) => regret)).sort((a, b) => a - b);
  const scored = rows.filter(
    ({ actual, forecast, lastYear }) => actual !== null && forecast !== null && lastYear !== null,
  );
  const places = given(rows.map(({ place }) => place));
  const bins = [0, 1, 2, 3, 4].map(
    (bin) => places.filter((place) => Math.min(4, Math.floor(place * 5)) === bin).length,
  );
  const lines = [
    "# Do the decisions hold?",
    "",
    `${rows.length} simulated fleets of 30 tools without effects or dirt (seeds ${FIRST_SEED} on); main seal of the axial damper,`,
    `a failure ${RATIO} times a planned redress, ${percent(ALLOWED)} allowed; \`npm run decision-study\`. ± is twice the Monte Carlo error.`,
    `Under the true laws the best interval is ${trueCost.optimalAge?.toFixed(0)} h.`,
    "",
    "| what | measured | wanted |",
    "|---|---|---|",
    `| an interval pays (verdict "yes") | ${share(rows.map(({ pays }) => pays === "yes"))} | it does in truth |`,
    `| true cost over the best at the recommended interval, mean | ${percent(mean(regrets))} | small |`,
    `| the same, 95 % of fleets below | ${percent(regrets[Math.floor(0.95 * regrets.length)] ?? Number.NaN)} | |`,
    `| expected regret as foretold, mean | ${percent(mean(given(rows.map(({ regretForetold }) => regretForetold))))} | near the first |`,
    `| the 90 % range holds the true best interval | ${share(given(rows.map(({ inRange }) => inRange)))} | 90 % |`,
    `| the limit keeps the true chance at or under the allowed | ${share(given(rows.map(({ chanceAtLimit }) => chanceAtLimit)).map((chance) => chance <= ALLOWED))} | 95 % |`,
    `| the forecast's 90 % range holds what came | ${share(given(rows.map(({ inForecast }) => inForecast)))} | 90 % or a little more |`,
    `| absolute error of the forecast, mean | ${mean(scored.map((row) => Math.abs((row.forecast ?? 0) - (row.actual ?? 0)))).toFixed(2)} failures | below the next |`,
    `| absolute error of last year's count, mean | ${mean(scored.map((row) => Math.abs((row.lastYear ?? 0) - (row.actual ?? 0)))).toFixed(2)} failures | |`,
    `| place of what came among the futures, in fifths | ${bins.join(", ")} | even |`,
    "",
  ];
  writeFileSync(results, lines.join("\n"));
  console.log(lines.join("\n"));
}

mkdirSync(folder, { recursive: true });
const [asked] = process.argv.slice(2);
if (asked !== "table") {
  const seeds = asked === undefined ? SEEDS : Number(asked);
  const done = new Set(known().map(({ seed }) => seed));
  for (let seed = FIRST_SEED; seed < FIRST_SEED + seeds; seed++) {
    if (done.has(seed)) continue;
    appendFileSync(file, `${JSON.stringify(runSeed(seed))}\n`);
    console.log(`seed ${seed}`);
  }
}
writeTable(known().sort((a, b) => a.seed - b.seed));
