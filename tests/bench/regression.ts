/**
 * How long the two large regressions take: `npm run bench:regression`. 100,000 invented lives, ten explanatory variables, a third
 * still good. Writes tests/bench/results/regression.md.
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { cpus, loadavg } from "node:os";
import { lifeSample } from "../../analysis/estimation/lifeSample.ts";
import { fitProportionalHazards } from "../../analysis/practice/hazards/fitProportionalHazards.ts";
import { hazardRowsOfLives } from "../../analysis/practice/hazards/hazardRows.ts";
import { fitLifeRegression } from "../../analysis/practice/life/fitLifeRegression.ts";
import type { DesignMatrix } from "../../analysis/practice/types.ts";
import { uniforms } from "../support/estimation/randomLives.ts";

const LIVES = 100_000;
const COLUMNS = 10;
const ROUNDS = 5;
/** Seconds that the R package survival took for the like task on another machine, as handed to this project. */
const ELSEWHERE = { hazards: 0.58, life: 0.39 };

function data(roundedToHours: boolean) {
  const random = uniforms(20_261_125);
  const values = new Float64Array(LIVES * COLUMNS).map(() => random() - 0.5);
  const effects = Array.from({ length: COLUMNS }, (_, j) => 0.3 * (j % 3) - 0.2);
  const lives = Array.from({ length: LIVES }, (_, i) => {
    const linear = effects.reduce((sum, b, j) => sum + b * values[i * COLUMNS + j]!, 0);
    const age = 300 * Math.exp(-linear / 1.5) * (-Math.log1p(-random())) ** (1 / 1.5);
    const stop = 900 * random();
    const end = Math.min(age, stop);
    const written = roundedToHours ? Math.max(1, Math.round(end)) : end;
    return { lower: written, upper: age <= stop ? written : null };
  });
  const names = effects.map((_, j) => `x${j + 1}`);
  const design: DesignMatrix = { rows: LIVES, names, values, terms: names.map((name, j) => ({ name, columns: [j] })) };
  return { sample: lifeSample({ unit: "h", lives }), design };
}

interface Measured {
  readonly wall: number;
  readonly processor: number;
  readonly steps: number;
}

/** Medians of several runs after one to warm up, in seconds. Processor time counts less of what else the machine does. */
function seconds(task: () => { readonly maximum: string; readonly iterations: number }): Measured {
  const first = task();
  if (first.maximum !== "found") throw new Error(first.maximum);
  const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(ROUNDS / 2)]!;
  const rounds = Array.from({ length: ROUNDS }, () => {
    const before = process.cpuUsage();
    const start = performance.now();
    task();
    const { user, system } = process.cpuUsage(before);
    return { wall: (performance.now() - start) / 1e3, processor: (user + system) / 1e6 };
  });
  return {
    wall: median(rounds.map(({ wall }) => wall)),
    processor: median(rounds.map(({ processor }) => processor)),
    steps: first.iterations,
  };
}

function line(name: string, { wall, processor, steps }: Measured, elsewhere: number): string {
  const times = [wall, processor, elsewhere, wall / elsewhere, processor / elsewhere].map((one) => one.toFixed(2));
  return `| ${[name, steps, ...times].join(" | ")} |`;
}

const exact = data(false);
const rounded = data(true);
const rows = hazardRowsOfLives(exact.sample);
const roundedRows = hazardRowsOfLives(rounded.sample);
const lines = [
  line(
    "proportional hazards, Efron, all ages different",
    seconds(() => fitProportionalHazards({ rows, design: exact.design })),
    ELSEWHERE.hazards,
  ),
  line(
    "proportional hazards, Efron, ages in whole hours",
    seconds(() => fitProportionalHazards({ rows: roundedRows, design: rounded.design })),
    ELSEWHERE.hazards,
  ),
  ...(["weibull", "loglogistic", "lognormal"] as const).map((law) =>
    line(
      `regression of life, ${law}`,
      seconds(() => fitLifeRegression({ sample: exact.sample, design: exact.design, law })),
      ELSEWHERE.life,
    ),
  ),
];
const report = `# Regressions on ${LIVES.toLocaleString("en")} lives, ${COLUMNS} explanatory variables

Written by \`npm run bench:regression\`: median of ${ROUNDS} runs after one to warm up, fit with covariance and the fit without
columns, Node ${process.versions.node}, ${cpus().length} cores (${cpus()[0]?.model.trim() ?? "unknown"}), one of them used;
load average of the machine meanwhile ${loadavg()[0]?.toFixed(1)}.

| task | Newton steps | seconds | of processor | elsewhere | ratio | ratio by processor |
|---|---|---|---|---|---|---|
${lines.join("\n")}

R not installed: not compared here. "Elsewhere" is what the R package survival took for a like task (100,000 lives, ten covariates) on
another machine, as handed to this project; other data, other hardware: a ratio of machines as much as of programs.
`;
mkdirSync(new URL("./results/", import.meta.url), { recursive: true });
writeFileSync(new URL("./results/regression.md", import.meta.url), report);
console.log(report);
