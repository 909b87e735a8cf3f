import { AnalysisError } from "../../errors.ts";
import { type Climbed, climbNewton } from "../../estimation/climbNewton.ts";
import { countLives, type FitCounts, refuseFailuresAtZero } from "../../estimation/fitWeibull.ts";
import type { LifeSample } from "../../estimation/types.ts";
import { chiSquareUpperTail } from "../../numerics/index.ts";
import { checkDesign } from "../common/checkDesign.ts";
import { clusterSandwich } from "../common/clusterSandwich.ts";
import { dependentColumns } from "../common/dependentColumns.ts";
import { factorPositive } from "../common/factorPositive.ts";
import { regressionNotices } from "../common/regressionNotices.ts";
import { type StandardDesign, standardiseDesign } from "../common/standardiseDesign.ts";
import { unboundedCoefficients } from "../common/unboundedCoefficients.ts";
import { unstandardise } from "../common/unstandardise.ts";
import type { LifeRegression, LifeRegressionFound, LifeRegressionInput, LifeRegressionNotFound } from "../types.ts";
import { type RegressionRows, regressionRows } from "./regressionRows.ts";
import { type RegressionSurface, regressionSurface } from "./regressionSurface.ts";

/**
 * Maximum likelihood regression of log life (accelerated life), log T = intercept + x'b + spread W, for any mix of exact,
 * right-, left- and interval-censored, left-truncated, counted and ranged lives.
 *
 * @returns       Plain data; `maximum` says whether the likelihood has one (see `RegressionMaximum`). Without a maximum there
 *                are no numbers; a `penalty` gives some, marked as such.
 * Errors         "bad-life" for a failure at age 0; "bad-setting" where design, clusters or penalty do not fit.
 * Accuracy       Newton's method on analytic derivatives, stopped when twice the gain of the next step is below 1e-17.
 * Source         Lawless (2003), Statistical Models and Methods for Lifetime Data, chapter 6.
 */
export function fitLifeRegression(input: LifeRegressionInput): LifeRegression {
  const { sample, design, law, clusters, penalty = null } = input;
  refuseFailuresAtZero(sample);
  checkDesign(design, sample.n, clusters);
  if (penalty && !(penalty.deviation > 0 && Number.isFinite(penalty.deviation))) {
    throw new AnalysisError("bad-setting", {
      setting: "penalty deviation",
      value: String(penalty.deviation),
      allowed: "above 0",
    });
  }
  const counts = countLives(sample);
  const base = { law, unit: sample.unit, counts };
  const none = (
    maximum: LifeRegressionNotFound["maximum"],
    more: Partial<LifeRegressionNotFound> = {},
  ): LifeRegression => ({
    ...base,
    maximum,
    iterations: 0,
    notices: [],
    unbounded: [],
    dependent: [],
    ...more,
  });
  if (counts.failures === 0) return none("no failures");
  const standard = standardiseDesign(design, sample.count);
  const dependent = dependentColumns(standard, sample.count).map((j) => design.names[j]!);
  if (dependent.length > 0) return none("columns dependent", { dependent });

  const lives = regressionRows(sample, law);
  const nothing = fitNothing(lives, input, counts);
  const surface = regressionSurface(lives, standard, law, penalty);
  const start = [nothing.at[0]!, ...new Array<number>(standard.columns).fill(0), ...nothing.at.slice(1)];
  const climbed = climbNewton(surface, start, input);
  const hasSpread = law !== "exponential";
  const inverse =
    factorPositive(
      climbed.hessian.map((value) => -value),
      surface.dimension,
    )?.inverse() ?? null;
  const why = whyNoMaximum(climbed, inverse, standard.columns, hasSpread, start);
  if (why !== null) {
    const { maximum, runsOff } = why;
    const unbounded = runsOff.map((j) => ({
      name: design.names[j]!,
      towards: climbed.at[1 + j]! > 0 ? ("longer life" as const) : ("shorter life" as const),
    }));
    return none(maximum, { iterations: climbed.iterations, unbounded });
  }
  return found({ input, counts, standard, surface, climbed, inverse: inverse!, nullValue: nothing.value });
}

interface Solved {
  readonly input: LifeRegressionInput;
  readonly counts: FitCounts;
  readonly standard: StandardDesign;
  readonly surface: RegressionSurface;
  readonly climbed: Climbed;
  readonly inverse: Float64Array;
  readonly nullValue: number | null;
}

function found({ input, counts, standard, surface, climbed, inverse, nullValue }: Solved): LifeRegressionFound {
  const { sample, design, law, clusters, penalty = null } = input;
  const hasSpread = law !== "exponential";
  const back = unstandardise(standard, hasSpread ? 1 : 0);
  const at = back.point(climbed.at);
  const names = ["intercept", ...design.names];
  const allNames = hasSpread ? [...names, "logSpread"] : names;
  const robust = clusters ? clusterSandwich(surface.scores(climbed.at), inverse, clusters) : null;
  const logLikelihood = penalty ? surface.logLikelihood(climbed.at) : climbed.value;
  const df = design.names.length;
  const chiSquare = nullValue === null ? 0 : Math.max(0, 2 * (logLikelihood - nullValue));
  const m = surface.dimension;
  return {
    law,
    unit: sample.unit,
    counts,
    maximum: "found",
    iterations: climbed.iterations,
    names,
    coefficients: at.slice(0, names.length),
    spread: hasSpread ? Math.exp(at[m - 1]!) : 1,
    covariance: { names: allNames, matrix: back.covariance(inverse) },
    robustCovariance: robust ? { names: allNames, matrix: back.covariance(robust.covariance) } : null,
    clusters: robust?.clusters ?? null,
    logLikelihood,
    penalisedLogLikelihood: climbed.value,
    nullLogLikelihood: nullValue,
    likelihoodRatio:
      nullValue === null || penalty || df === 0
        ? null
        : { chiSquare, degreesOfFreedom: df, pValue: chiSquareUpperTail(chiSquare, df) },
    akaike: 2 * m - 2 * logLikelihood,
    largestScore: Math.max(...climbed.gradient.map((slope, i) => Math.abs(slope) * Math.sqrt(inverse[i * m + i]!))),
    penalty,
    notices: regressionNotices({
      failures: counts.failures,
      coefficients: df,
      clusters: robust?.clusters ?? null,
      isPenalised: penalty !== null,
    }),
  };
}

/** The same law without columns: where the search begins, and what the columns are measured against. */
function fitNothing(
  lives: RegressionRows,
  { sample, law, maxIterations }: LifeRegressionInput,
  { failures }: FitCounts,
): { readonly at: readonly number[]; readonly value: number | null } {
  const empty = standardiseDesign({ rows: sample.n, names: [], values: new Float64Array(0), terms: [] }, sample.count);
  const surface = regressionSurface(lives, empty, law, null);
  const level = Math.log(exposure(sample) / failures);
  const start = law === "exponential" ? [level] : [level, 0];
  const climbed = climbNewton(surface, start, maxIterations === undefined ? {} : { maxIterations });
  const isFound = climbed.converged && (law === "exponential" || Math.abs(climbed.at[1]!) < LOG_SPREAD_CHANGE);
  return isFound ? { at: climbed.at, value: climbed.value } : { at: start, value: null };
}

/** Age lived under observation, failures at the middle of what is known of them. */
function exposure({ n, lower, lowerHigh, upper, upperHigh, entry, count }: LifeSample): number {
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const early = 0.5 * (lower[i]! + lowerHigh[i]!);
    const late = upper[i] === Number.POSITIVE_INFINITY ? early : 0.5 * (upper[i]! + upperHigh[i]!);
    sum += count[i]! * (0.5 * (early + late) - entry[i]!);
  }
  // Failures found at once after entry leave no age: any start will do.
  return sum > 0 ? sum : 1;
}

/** Changes of log spread beyond which the law has gathered at one age or flattened out. */
const LOG_SPREAD_CHANGE = 12;

function whyNoMaximum(
  climbed: Climbed,
  inverse: Float64Array | null,
  columns: number,
  hasSpread: boolean,
  start: readonly number[],
): { readonly maximum: LifeRegressionNotFound["maximum"]; readonly runsOff: readonly number[] } | null {
  const m = climbed.at.length;
  const logSpread = hasSpread ? climbed.at[m - 1]! : 0;
  const first = hasSpread ? start[m - 1]! : 0;
  if (logSpread < first - LOG_SPREAD_CHANGE) return { maximum: "spread shrinks to 0", runsOff: [] };
  const scale = Math.exp(2 * logSpread);
  const runsOff = unboundedCoefficients(
    climbed.hessian.map((value) => -value * scale),
    m,
    1,
    columns,
  );
  if (runsOff.length > 0) return { maximum: "separated", runsOff };
  return climbed.converged && inverse !== null ? null : { maximum: "not converged", runsOff: [] };
}
