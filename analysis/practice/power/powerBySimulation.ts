import { AnalysisError } from "../../errors.ts";
import { randomStream } from "../../estimation/bootstrap/randomStream.ts";
import { chiSquareUpperTail } from "../../numerics/index.ts";
import { waldCoefficients } from "../common/waldCoefficients.ts";
import { type BinomialInterval, binomialInterval } from "../comparisons/binomialInterval.ts";
import { fitLifeRegression } from "../life/fitLifeRegression.ts";
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
  readonly method: "likelihood ratio" | "wald, by cluster";
}

/**
 * How often would a stated effect be told, were it there? The lives are drawn again and again as assumed, and each set is tested:
 * by the likelihood ratio, or, where tools are named, by the estimate over its error by cluster.
 *
 * @param input  Seeded: the same input gives the same answer.
 * Errors        "bad-setting" for a level, runs, followed ages, coefficients, clusters or a column that do not fit.
 */
export function powerBySimulation({ assumed, column, level = 0.05, runs, seed }: PowerInput): Power {
  check(assumed, column, level, runs);
  const { design, law, clusters } = assumed;
  const random = randomStream(seed);
  const without = withoutColumn(design, column);
  let told = 0;
  let withoutMaximum = 0;
  let failures = 0;
  for (let run = 0; run < runs; run++) {
    const sample = drawLives(assumed, random);
    const p = pValueOf({ sample, design, law, ...(clusters ? { clusters } : {}) }, without, column);
    if (p === null) withoutMaximum++;
    else if (p <= level) told++;
    failures += sample.upper.reduce((sum, upper) => sum + (upper < Number.POSITIVE_INFINITY ? 1 : 0), 0);
  }
  return {
    power: binomialInterval(told, runs, { confidence: 0.95, method: "score" }),
    withoutMaximum,
    runs,
    seed,
    meanFailures: failures / runs,
    method: clusters ? "wald, by cluster" : "likelihood ratio",
  };
}

function pValueOf(input: LifeRegressionInput, without: DesignMatrix, column: string): number | null {
  const fit = fitLifeRegression(input);
  if (fit.maximum !== "found") return null;
  if (fit.robustCovariance) {
    const all = waldCoefficients(fit.names, fit.coefficients, fit.robustCovariance.matrix, {
      method: "wald, by cluster",
    });
    return all.find(({ name }) => name === column)?.pValue ?? null;
  }
  const { sample, law } = input;
  const less = without.names.length === 0 ? fit.nullLogLikelihood : logLikelihoodOf({ sample, design: without, law });
  return less === null ? null : chiSquareUpperTail(2 * (fit.logLikelihood - less), 1);
}

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
  { design, coefficients, spread, followedTo, lookEvery, clusters, frailtyVariance = 0, law }: AssumedLives,
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
  require(lookEvery === null || lookEvery > 0, "look every", String(lookEvery), "above 0");
  require(clusters === undefined || clusters.length === rows, "clusters", clusters?.length ?? 0, `${rows}`);
  require(frailtyVariance >= 0, "frailty variance", String(frailtyVariance), "0 or more");
  const isWeibull = law === "weibull" || law === "exponential";
  require(frailtyVariance === 0 ||
    (isWeibull && clusters !== undefined), "frailty variance", frailtyVariance, "with tools, for a Weibull law");
}
