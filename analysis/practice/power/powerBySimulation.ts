import { mean, sampleStandardDeviation } from "simple-statistics";
import { AnalysisError } from "../../errors.ts";
import { randomStream } from "../../estimation/bootstrap/randomStream.ts";
import { chiSquareUpperTail, normalQuantile } from "../../numerics/index.ts";
import { type BinomialInterval, binomialInterval } from "../comparisons/binomialInterval.ts";
import { fitLifeRegression } from "../life/fitLifeRegression.ts";
import { lifeFitter } from "../screen/lifeFitter.ts";
import { lifeMultiplier } from "../screen/lifeMultiplier.ts";
import type { DesignMatrix, LifeRegressionInput } from "../types.ts";
import { type AssumedLives, drawLives } from "./drawLives.ts";

export interface PowerInput {
  readonly assumed: AssumedLives;
  /** Column whose effect is to be told. */
  readonly column: string;
  /** Level of the test, 0.05 by default. */
  readonly level?: number;
  readonly runs: number;
  readonly seed: number;
}

export interface Power {
  /** Share of simulated sets in which the effect was told, with its Monte Carlo error. */
  readonly power: BinomialInterval;
  /** Sets in which the likelihood had no maximum, a group without failures for instance; they count as not told. */
  readonly withoutMaximum: number;
  readonly runs: number;
  readonly seed: number;
  /** Failures in a set, on average. */
  readonly meanFailures: number;
  /**
   * Signed root of the test in units of its standard error: positive where the effect came out with the sign assumed. Its mean
   * grows with the root of the number of lives, its deviation does not. Over the sets that have a
   * maximum; NaN of fewer than two.
   */
  readonly signedRoot: { readonly mean: number; readonly deviation: number };
  readonly method: "likelihood ratio" | "likelihood ratio, scaled by tool";
}

/**
 * How often would a stated effect be told, were it there? The lives are drawn again and again as assumed, and each set is tested:
 * by the likelihood ratio, or, where tools are named, as the screen does it: the ratio scaled by how much tools differ.
 *
 * @param input  Seeded: the same input gives the same answer.
 * Errors        "bad-setting" for a level, runs, followed ages, coefficients, clusters or a column that do not fit.
 */
export function powerBySimulation({ assumed, column, level = 0.05, runs, seed }: PowerInput): Power {
  check(assumed, column, level, runs);
  const { design, law, clusters } = assumed;
  const random = randomStream(seed);
  const place = design.names.indexOf(column);
  const sign = Math.sign(assumed.coefficients[place]!) || 1;
  const roots: number[] = [];
  let told = 0;
  let failures = 0;
  for (let run = 0; run < runs; run++) {
    const sample = drawLives(assumed, random);
    const test = testOf({ sample, design, law, ...(clusters ? { clusters } : {}) }, column);
    if (test !== null) {
      if (test.pValue <= level) told++;
      roots.push(sign * Math.sign(test.coefficient) * normalQuantile(1 - Math.max(test.pValue, 1e-300) / 2));
    }
    failures += sample.upper.reduce((sum, upper) => sum + (upper < Number.POSITIVE_INFINITY ? 1 : 0), 0);
  }
  return {
    power: binomialInterval(told, runs, { confidence: 0.95, method: "score" }),
    withoutMaximum: runs - roots.length,
    runs,
    seed,
    meanFailures: failures / runs,
    signedRoot:
      roots.length > 1
        ? { mean: mean(roots), deviation: sampleStandardDeviation(roots) }
        : { mean: Number.NaN, deviation: Number.NaN },
    method: clusters ? "likelihood ratio, scaled by tool" : "likelihood ratio",
  };
}

interface Test {
  readonly coefficient: number;
  readonly pValue: number;
}

/** Null where a likelihood has no maximum. */
function testOf(input: LifeRegressionInput, column: string): Test | null {
  const { sample, design, law, clusters } = input;
  if (clusters) {
    const columns = [column, ...design.names.filter((name) => name !== column)].map((name) => ({
      name,
      values: columnOf(design, name),
    }));
    const [first, ...held] = columns;
    return lifeMultiplier(lifeFitter(sample, clusters, law), [first!, ...held], 1, new Set(clusters).size);
  }
  const fit = fitLifeRegression(input);
  if (fit.maximum !== "found") return null;
  const without = withoutColumn(design, column);
  const less = without.names.length === 0 ? fit.nullLogLikelihood : logLikelihoodOf({ sample, design: without, law });
  const coefficient = fit.coefficients[1 + design.names.indexOf(column)]!;
  return less === null ? null : { coefficient, pValue: chiSquareUpperTail(2 * (fit.logLikelihood - less), 1) };
}

const columnOf = ({ rows, names, values }: DesignMatrix, name: string): Float64Array =>
  Float64Array.from({ length: rows }, (_, i) => values[i * names.length + names.indexOf(name)]!);

function logLikelihoodOf(input: LifeRegressionInput): number | null {
  const fit = fitLifeRegression(input);
  return fit.maximum === "found" ? fit.logLikelihood : null;
}

function withoutColumn({ rows, names, values }: DesignMatrix, column: string): DesignMatrix {
  const k = names.length;
  const kept = names.flatMap((name, j) => (name === column ? [] : [j]));
  return {
    rows,
    names: kept.map((j) => names[j]!),
    values: Float64Array.from({ length: rows * kept.length }, (_, at) => {
      return values[Math.floor(at / kept.length) * k + kept[at % kept.length]!]!;
    }),
    terms: kept.map((j, at) => ({ name: names[j]!, columns: [at] })),
  };
}

function check(
  { design, coefficients, spread, followedTo, entry, lookEvery, clusters, frailtyVariance = 0, law }: AssumedLives,
  column: string,
  level: number,
  runs: number,
): void {
  const require = (holds: boolean, setting: string, value: string | number, allowed: string): void => {
    if (!holds) throw new AnalysisError("bad-setting", { setting, value, allowed });
  };
  const { rows, names } = design;
  require(names.includes(column), "column", column, names.join(", "));
  require(level > 0 && level < 1, "level", String(level), "between 0 and 1");
  require(Number.isInteger(runs) && runs > 0, "runs", String(runs), "a whole number above 0");
  require(coefficients.length === names.length, "coefficients", coefficients.length, `${names.length}`);
  require(spread > 0, "spread", String(spread), "above 0");
  require(followedTo.length === rows &&
    followedTo.every((age) => age > 0), "followed to", followedTo.length, `${rows} ages above 0`);
  require(entry === undefined ||
    (entry.length === rows && entry.every((age, i) => age >= 0 && age < followedTo[i]!)), "entry", entry?.length ??
    0, `${rows} ages from 0 to below the age followed to`);
  require(lookEvery === null || lookEvery > 0, "look every", String(lookEvery), "above 0");
  require(clusters === undefined || clusters.length === rows, "clusters", clusters?.length ?? 0, `${rows}`);
  require(frailtyVariance >= 0, "frailty variance", String(frailtyVariance), "0 or more");
  const isWeibull = law === "weibull" || law === "exponential";
  require(frailtyVariance === 0 ||
    (isWeibull && clusters !== undefined), "frailty variance", frailtyVariance, "with tools, for a Weibull law");
}
