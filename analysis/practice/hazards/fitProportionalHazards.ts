import { climbNewton } from "../../estimation/climbNewton.ts";
import { chiSquareUpperTail } from "../../numerics/index.ts";
import { clusterSandwich } from "../common/clusterSandwich.ts";
import { dependentColumns } from "../common/dependentColumns.ts";
import { factorPositive } from "../common/factorPositive.ts";
import { regressionNotices } from "../common/regressionNotices.ts";
import { unboundedCoefficients } from "../common/unboundedCoefficients.ts";
import type {
  JointTest,
  ProportionalHazards,
  ProportionalHazardsInput,
  ProportionalHazardsNotFound,
} from "../types.ts";
import { compileHazards } from "./compileHazards.ts";
import { followUp } from "./followUp.ts";
import { partialLikelihood } from "./partialLikelihood.ts";
import { scoreResiduals } from "./scoreResiduals.ts";

/**
 * Proportional hazards: hazard at an age = hazard of its stratum over age, of any form, times exp(x'b).
 *
 * @returns   Plain data; `maximum` says whether the partial likelihood has one. Without a maximum there are no numbers; a `penalty`
 *            gives some, marked as such.
 * Errors     "bad-setting" where design, clusters, strata or penalty do not fit the rows.
 * Accuracy   Newton's method on analytic derivatives, stopped when twice the gain of the next step is below 1e-17. The
 *            bias-reducing penalty costs failures x rows an evaluation.
 * Source     Cox (1972), J. R. Statist. Soc. B 34, 187-220; Kalbfleisch & Prentice (2002), The Statistical Analysis of Failure
 *            Time Data, chapter 4; robust covariance Lin & Wei (1989), J. Amer. Statist. Assoc. 84, 1074-1078.
 */
export function fitProportionalHazards(input: ProportionalHazardsInput): ProportionalHazards {
  const { rows, design, ties = "efron", clusters, penalty = null } = input;
  const compiled = compileHazards(input);
  const { standard, ordered, surface, penaltyShift } = compiled;
  let total = 0;
  let failures = 0;
  for (let i = 0; i < rows.n; i++) {
    total += rows.count[i]!;
    failures += rows.failed[i]! * rows.count[i]!;
  }
  const base = { unit: rows.unit, ties, rows: total, failures, strata: ordered.names.length };
  const none = (
    maximum: ProportionalHazardsNotFound["maximum"],
    more: Partial<ProportionalHazardsNotFound> = {},
  ): ProportionalHazards => ({ ...base, maximum, iterations: 0, notices: [], unbounded: [], dependent: [], ...more });
  if (failures === 0) return none("no failures");
  const dependent = dependentColumns(standard, rows.count).map((j) => design.names[j]!);
  if (dependent.length > 0) return none("columns dependent", { dependent });

  const k = design.names.length;
  const zero = new Array<number>(k).fill(0);
  const climbed = climbNewton(surface, zero, input);
  const { iterations } = climbed;
  const information = climbed.hessian.map((value) => -value);
  const unbounded = unboundedCoefficients(information, k, 0, k).map((j) => ({
    name: design.names[j]!,
    towards: climbed.at[j]! > 0 ? ("shorter life" as const) : ("longer life" as const),
  }));
  if (unbounded.length > 0) return none("separated", { iterations, unbounded });
  const inverse = factorPositive(information, k)?.inverse();
  if (!climbed.converged || !inverse) return none("not converged", { iterations });

  const gradient = new Float64Array(k);
  const hessian = new Float64Array(k * k);
  const nullPenalised = surface.evaluate(zero, gradient, hessian);
  const nullLogLikelihood = penalty ? surface.logLikelihood(zero) : nullPenalised;
  const logLikelihood = penalty ? surface.logLikelihood(climbed.at) : climbed.value;
  const unpenalised = penalty ? partialLikelihood(ordered, null) : surface;
  unpenalised.evaluate(zero, gradient, hessian);
  const scoresAt = (at: readonly number[]): Float64Array => scoreResiduals(followUp(ordered, surface.weights(at)));
  const robust = clusters ? clusterSandwich(scoresAt(climbed.at), inverse, clusters) : null;
  const covarianceOf = (matrix: Float64Array) => ({
    names: design.names,
    matrix: design.names.map((_, i) =>
      design.names.map((_, j) => matrix[i * k + j]! / (standard.ranges[i]! * standard.ranges[j]!)),
    ),
  });
  return {
    ...base,
    maximum: "found",
    iterations,
    names: design.names,
    coefficients: climbed.at.map((b, j) => b / standard.ranges[j]!),
    covariance: covarianceOf(inverse),
    robustCovariance: robust ? covarianceOf(robust.covariance) : null,
    clusters: robust?.clusters ?? null,
    logLikelihood,
    penalisedLogLikelihood: climbed.value + penaltyShift,
    nullLogLikelihood,
    nullPenalisedLogLikelihood: nullPenalised + penaltyShift,
    likelihoodRatio: chiSquareTest(Math.max(0, 2 * (climbed.value - nullPenalised)), k),
    wald: formTest(inverse, climbed.at),
    score: formTest(
      hessian.map((value) => -value),
      gradient,
    ),
    robustWald: robust ? formTest(robust.covariance, climbed.at) : null,
    robustScore: clusters ? robustScoreTest(scoresAt(zero), clusters, k) : null,
    largestScore: Math.max(0, ...climbed.gradient.map((slope, i) => Math.abs(slope) * Math.sqrt(inverse[i * k + i]!))),
    penalty,
    notices: regressionNotices({
      failures,
      coefficients: k,
      clusters: robust?.clusters ?? null,
      isPenalised: penalty !== null,
    }),
  };
}

/** v' M^-1 v against chi-square; null where M is singular: fewer clusters than coefficients. */
function formTest(matrix: Float64Array, vector: ArrayLike<number>): JointTest | null {
  const size = vector.length;
  const right = Float64Array.from(vector);
  const solved = factorPositive(matrix, size)?.solve(right);
  return solved
    ? chiSquareTest(
        right.reduce((sum, value, i) => sum + value * solved[i]!, 0),
        size,
      )
    : null;
}

function chiSquareTest(chiSquare: number, degreesOfFreedom: number): JointTest {
  const pValue = degreesOfFreedom > 0 ? chiSquareUpperTail(chiSquare, degreesOfFreedom) : 1;
  return { chiSquare, degreesOfFreedom, pValue };
}

/** The score at 0 against the sum over clusters of its squares. */
function robustScoreTest(scores: Float64Array, clusters: readonly string[], k: number): JointTest | null {
  const identity = new Float64Array(k * k);
  for (let j = 0; j < k; j++) identity[j * k + j] = 1;
  const { covariance } = clusterSandwich(scores, identity, clusters);
  const sum = new Float64Array(k);
  scores.forEach((value, at) => {
    sum[at % k]! += value;
  });
  return formTest(covariance, sum);
}
