/**
 * What the engine costs, side by side with R's `survival` where R is installed; writes tests/bench/results/engine.md.
 *
 *   npm run bench           all of it, two or three minutes
 *   npm run bench -- laws   only the laws at 10,000 lives, printed
 *
 * Times are processor time, the middle of five (of three for a million lives) after a warm-up: on a machine that others use too, the
 * clock on the wall says more of the others.
 */
import { writeFileSync } from "node:fs";
import { availableParallelism, cpus, loadavg } from "node:os";
import { bootstrapWeibull } from "../../analysis/estimation/bootstrap/bootstrapWeibull.ts";
import { randomStream } from "../../analysis/estimation/bootstrap/randomStream.ts";
import { fitLaw } from "../../analysis/estimation/fitLaw.ts";
import { fitWeibull, type WeibullFit } from "../../analysis/estimation/fitWeibull.ts";
import { lifeSample } from "../../analysis/estimation/lifeSample.ts";
import { weibullBounds } from "../../analysis/estimation/profileBounds.ts";
import type { LifeSample } from "../../analysis/estimation/types.ts";
import { weibullLikelihood } from "../../analysis/estimation/weibullLikelihood.ts";
import { productLimit } from "../../analysis/nonparametric/productLimit.ts";
import { timeInR } from "./besideR.ts";
import { fleetOfSample } from "./fleetOfSample.ts";

/** Elapsed seconds that R 4.2.2 with `survival` took once on another machine with two cores; for the scale only. */
const R_ELSEWHERE = { fit: 4.7, productLimit: 3.5, refits: 0.78, profile: 1.7 } as const;
const laws = [
  "weibull",
  "exponential",
  "lognormal",
  "loglogistic",
  "gamma",
  "smallest extreme value",
  "normal",
  "generalised gamma",
  "three-parameter weibull",
] as const;

/** Weibull lives of distinct ages, shape 1.7 and scale 100: about half fail. With looks, failures are found at one of two. */
function invented(n: number, looks: boolean): LifeSample {
  const random = randomStream(11);
  const lives = Array.from({ length: n }, () => {
    const age = 100 * (-Math.log1p(-random.uniform())) ** (1 / 1.7);
    const last = 150 * random.uniform();
    if (!looks) return age < last ? { lower: age, upper: age } : { lower: last, upper: null };
    if (age < last / 2) return { lower: 0, upper: last / 2 };
    return age < last ? { lower: last / 2, upper: last } : { lower: last, upper: null };
  });
  return lifeSample({ unit: "h", lives });
}

/** Middle of the processor times in seconds. */
function secondsOf(run: () => unknown, times = 5): number {
  run();
  const taken = Array.from({ length: times }, () => {
    const before = process.cpuUsage();
    run();
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1e6;
  });
  return taken.sort((a, b) => a - b)[Math.floor(times / 2)]!;
}

/** Largest derivative of the log likelihood, each in standard errors of its parameter. */
function scoreAt(sample: LifeSample, fit: WeibullFit, shape: number, scale: number): number {
  if (fit.maximum !== "found") return Number.NaN;
  const likelihood = weibullLikelihood(sample);
  const out = new Float64Array(6);
  const level = shape * (likelihood.center - Math.log(scale));
  likelihood.evaluate(shape, level, out);
  const byLogShape = shape * out[1]! + level * out[2]!;
  const byLogScale = -shape * out[2]!;
  const { logShape, logScale } = fit.covariance;
  return Math.max(Math.abs(byLogShape) * Math.sqrt(logShape), Math.abs(byLogScale) * Math.sqrt(logScale));
}

const ms = (seconds: number): string => (1000 * seconds).toFixed(0);

function lawTable(): string[] {
  const [exact, looks] = [invented(10_000, false), invented(10_000, true)];
  return laws.map((law) => {
    const scoreOf = (sample: LifeSample): number => {
      const fit = fitLaw(sample, law);
      return fit.maximum === "found" ? fit.largestScore : Number.NaN;
    };
    const score = Math.max(scoreOf(exact), scoreOf(looks));
    return `| ${law} | ${ms(secondsOf(() => fitLaw(exact, law)))} | ${ms(secondsOf(() => fitLaw(looks, law)))} | ${score.toExponential(0)} |`;
  });
}

function besideR(): string[] {
  const [million, hundred, many] = [invented(1_000_000, false), invented(100, false), invented(100_000, false)];
  const [fit, small, large] = [fitWeibull(million), fitWeibull(hundred), fitWeibull(many)];
  if (fit.maximum !== "found" || small.maximum !== "found" || large.maximum !== "found") throw new Error("no maximum");
  const serials = Array.from({ length: 100 }, (_, i) => String(i));
  const ours = {
    fit: secondsOf(() => fitWeibull(million), 3),
    productLimit: secondsOf(() => productLimit(million), 3),
    refits: secondsOf(() => bootstrapWeibull(hundred, small, serials, { resamples: 1_000, seed: 3 })),
    profile: secondsOf(() => weibullBounds(large, many, { kind: "shape" }, 0.95)),
  };
  const r = timeInR({ million, hundred, many });
  const names = {
    fit: "Weibull fit, 1,000,000 lives of distinct ages",
    productLimit: "product-limit with bounds, 1,000,000 lives",
    refits: "1,000 bootstrap refits, n = 100",
    profile: "profile bounds of the shape, n = 100,000",
  };
  const rows = (["fit", "productLimit", "refits", "profile"] as const).map(
    (what) =>
      `| ${names[what]} | ${ours[what].toFixed(2)} s | ${r === null ? "not compared" : `${r[what].toFixed(2)} s`} | ${R_ELSEWHERE[what]} s | ${(R_ELSEWHERE[what] / ours[what]).toFixed(1)} |`,
  );
  const own = scoreAt(million, fit, fit.shape, fit.scale).toExponential(0);
  const theirs = r === null ? null : scoreAt(million, fit, r.shape, r.scale).toExponential(0);
  return [
    "| what | here | R here | R elsewhere | R elsewhere / here |",
    "|---|---|---|---|---|",
    ...rows,
    "",
    `Score of the million-life fit, in standard errors: ${own}${theirs === null ? "" : `; of R's: ${theirs}`}. ` +
      (r === null ? "R is not installed here: not compared." : `${r.version}.`),
    '"R elsewhere": elapsed seconds of R 4 with `survival` on another machine with two cores; for the scale only.',
  ];
}

function main(asked: readonly string[]): void {
  const head = ["| law | exact ages, ms | between looks, ms | largest score |", "|---|---|---|---|"];
  const ofLaws = lawTable();
  if (asked.includes("laws")) {
    console.log([...head, ...ofLaws].join("\n"));
    return;
  }
  const text = [
    "# What the engine costs",
    "",
    `Written by \`npm run bench\`. Processor time, middle of three or five after a warm-up. Node ${process.version}, ` +
      `${availableParallelism()} cores (${cpus()[0]?.model ?? "unknown"}), load ${loadavg()[0]!.toFixed(1)} while it ran.`,
    "",
    "## Beside R",
    "",
    ...besideR(),
    "",
    "## One fit of 10,000 lives, every law",
    "",
    "Aim: none over 100 ms. Score in standard errors; half of the lives fail, or are found failed at one of two looks.",
    "",
    ...head,
    ...ofLaws,
    "",
    "## What a user feels: the whole sample fleet",
    "",
    ...fleetOfSample(),
    "",
  ].join("\n");
  writeFileSync(new URL("./results/engine.md", import.meta.url), text);
  console.log(text);
}

main(process.argv.slice(2));
