import type { Surface } from "../../estimation/climbNewton.ts";
import type { StandardDesign } from "../common/standardiseDesign.ts";
import { addCrossProducts, addWeightedRows } from "../common/weightedSums.ts";
import type { NormalPenalty, RegressionLaw } from "../types.ts";
import type { RegressionRows } from "./regressionRows.ts";

/**
 * Log likelihood over (intercept, b of the standardised columns, log spread), the spread left out for the exponential law.
 * The intercept is that of a life with every column at its mean.
 */
export interface RegressionSurface extends Surface {
  /** Log likelihood without the penalty. */
  logLikelihood(at: readonly number[]): number;
  /** Score of each row, rows x dimension, counts included, without the penalty. */
  scores(at: readonly number[]): Float64Array;
}

export function regressionSurface(
  lives: RegressionRows,
  design: StandardDesign,
  law: RegressionLaw,
  penalty: NormalPenalty | null,
): RegressionSurface {
  const { columns: k, values } = design;
  const hasSpread = law !== "exponential";
  const m = 1 + k + (hasSpread ? 1 : 0);
  const six = new Float64Array(6);
  /** Precision of the prior of each standardised coefficient. */
  const precision = Float64Array.from(design.deviations, (sd) => (penalty ? (sd / penalty.deviation) ** 2 : 0));

  const location = (row: number, at: readonly number[]): number => {
    let mu = at[0]!;
    for (let j = 0; j < k; j++) mu += values[row * k + j]! * at[1 + j]!;
    return mu;
  };
  const logSpread = (at: readonly number[]): number => (hasSpread ? at[m - 1]! : 0);

  const byMu = new Float64Array(lives.rows);
  const bend = new Float64Array(lives.rows);
  const cross = new Float64Array(lives.rows);
  const products = new Float64Array(k * k);
  const sums = new Float64Array(3 * k);

  const evaluate = (at: readonly number[], gradient: Float64Array, hessian: Float64Array): number => {
    const s = logSpread(at);
    gradient.fill(0);
    hessian.fill(0);
    products.fill(0);
    sums.fill(0);
    let value = 0;
    for (let i = 0; i < lives.rows; i++) {
      lives.evaluate(i, location(i, at), s, six);
      value += six[0]!;
      byMu[i] = six[1]!;
      bend[i] = six[3]!;
      cross[i] = six[4]!;
      gradient[0]! += six[1]!;
      hessian[0]! += six[3]!;
      if (!hasSpread) continue;
      gradient[m - 1]! += six[2]!;
      hessian[(m - 1) * m]! += six[4]!;
      hessian[m * m - 1]! += six[5]!;
    }
    addCrossProducts(products, values, bend, lives.rows, k);
    [byMu, bend, cross].forEach((weights, kind) => {
      addWeightedRows(sums.subarray(kind * k, (kind + 1) * k), values, weights, lives.rows, k);
    });
    for (let j = 0; j < k; j++) {
      gradient[1 + j] = sums[j]!;
      hessian[(1 + j) * m] = sums[k + j]!;
      for (let l = 0; l <= j; l++) hessian[(1 + j) * m + 1 + l] = products[j * k + l]!;
      if (hasSpread) hessian[(m - 1) * m + 1 + j] = sums[2 * k + j]!;
    }
    for (let j = 0; j < k; j++) {
      const b = at[1 + j]!;
      value -= 0.5 * precision[j]! * b * b;
      gradient[1 + j]! -= precision[j]! * b;
      hessian[(1 + j) * m + 1 + j]! -= precision[j]!;
    }
    for (let a = 0; a < m; a++) for (let b = 0; b < a; b++) hessian[b * m + a] = hessian[a * m + b]!;
    // NaN is one infinity less another; far off, derivatives overflow before the value does.
    const isUsable = value > -1e250 && value < Number.POSITIVE_INFINITY && hessian.every(Number.isFinite);
    return isUsable ? value : Number.NEGATIVE_INFINITY;
  };

  return {
    dimension: m,
    evaluate,
    // A step that changes the spread by more than a factor of 7 says only which way to go.
    reach: (_, step) => (hasSpread && Math.abs(step[m - 1]!) > 2 ? 2 / Math.abs(step[m - 1]!) : 1),
    logLikelihood: (at) => {
      let value = 0;
      for (let i = 0; i < lives.rows; i++) {
        lives.evaluate(i, location(i, at), logSpread(at), six);
        value += six[0]!;
      }
      return value;
    },
    scores: (at) => {
      const scores = new Float64Array(lives.rows * m);
      for (let i = 0; i < lives.rows; i++) {
        lives.evaluate(i, location(i, at), logSpread(at), six);
        scores[i * m] = six[1]!;
        for (let j = 0; j < k; j++) scores[i * m + 1 + j] = six[1]! * values[i * k + j]!;
        if (hasSpread) scores[i * m + m - 1] = six[2]!;
      }
      return scores;
    },
  };
}
