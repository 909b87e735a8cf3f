import { normalQuantile } from "../../numerics/index.ts";
import type { LifeSample } from "../types.ts";
import { adjustedRanks } from "./adjustedRanks.ts";
import { type MedianRank, medianRank } from "./medianRank.ts";

export interface RankRegressionOptions {
  readonly ranks?: MedianRank;
  /**
   * Which is taken as the outcome of the straight line: `age` (log age on transformed rank, errors in age are made small)
   * or `rank`. The two lines cross at the mean point; that of `age` is the steeper one.
   */
  readonly outcome?: "age" | "rank";
}

interface Line {
  readonly method: "rank regression";
  readonly unit: string;
  readonly lives: number;
  readonly failures: number;
  /** The points: log age against the transformed median rank. */
  readonly points: readonly { readonly row: number; readonly age: number; readonly failedFraction: number }[];
  /** Of the transformed rank against log age. */
  readonly slope: number;
  readonly intercept: number;
  /** Squared correlation of the points; the same for both outcomes. It says nothing of how sure the line is. */
  readonly rSquared: number;
}

/** Weibull: S(t) = exp(-(t / scale)^shape). */
export interface WeibullLine extends Line {
  readonly law: "weibull";
  readonly shape: number;
  readonly scale: number;
}

/** Lognormal: log T is normal with mean mu and standard deviation sigma. */
export interface LognormalLine extends Line {
  readonly law: "lognormal";
  readonly mu: number;
  readonly sigma: number;
}

/**
 * A law by a straight line through the median ranks of the failures: an old hand method, kept to compare maximum likelihood
 * with. It weighs every failure alike, has no bounds of its own, and reads lives that did not fail from their ranks only.
 *
 *   weibull     log(-log(1 - F)) = shape * (log t - log scale)
 *   lognormal   Phi^-1(F)        = (log t - mu) / sigma
 *
 * @param sample  Exact and right-censored lives, see `adjustedRanks`.
 * @returns       Null where fewer than two distinct ages of failure are there to lay a line through.
 * Errors         As `adjustedRanks`.
 * Source         Meeker & Escobar (1998), Statistical Methods for Reliability Data, ch. 6, for plotting and its limits;
 *                Genschel & Meeker (2010), Quality Engineering 22, 236-255, for the comparison with maximum likelihood.
 */
export function fitByRankRegression(
  sample: LifeSample,
  law: "weibull",
  options?: RankRegressionOptions,
): WeibullLine | null;
export function fitByRankRegression(
  sample: LifeSample,
  law: "lognormal",
  options?: RankRegressionOptions,
): LognormalLine | null;
export function fitByRankRegression(
  sample: LifeSample,
  law: "weibull" | "lognormal",
  { ranks = "exact", outcome = "age" }: RankRegressionOptions = {},
): WeibullLine | LognormalLine | null {
  const { lives, failures } = adjustedRanks(sample);
  const points = failures.map(({ row, age, rank }) => ({ row, age, failedFraction: medianRank(rank, lives, ranks) }));
  if (new Set(points.map(({ age }) => age)).size < 2) return null;

  const x = points.map(({ age }) => Math.log(age));
  const y = points.map(({ failedFraction }) =>
    law === "weibull" ? Math.log(-Math.log1p(-failedFraction)) : normalQuantile(failedFraction),
  );
  const [meanX, meanY] = [meanOf(x), meanOf(y)];
  const xx = sumOf(x.map((value) => (value - meanX) ** 2));
  const yy = sumOf(y.map((value) => (value - meanY) ** 2));
  const xy = sumOf(x.map((value, i) => (value - meanX) * ((y[i] ?? meanY) - meanY)));
  const slope = outcome === "age" ? yy / xy : xy / xx;
  const intercept = meanY - slope * meanX;
  const line: Line = {
    method: "rank regression",
    unit: sample.unit,
    lives,
    failures: failures.length,
    points,
    slope,
    intercept,
    rSquared: (xy * xy) / (xx * yy),
  };
  return law === "weibull"
    ? { ...line, law, shape: slope, scale: Math.exp(-intercept / slope) }
    : { ...line, law, mu: -intercept / slope, sigma: 1 / slope };
}

const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);
const meanOf = (values: readonly number[]): number => sumOf(values) / values.length;
