import { climbNewton, type Surface } from "../../estimation/climbNewton.ts";
import { hessianAt, linkedLikelihood } from "../../estimation/linked/linkedLikelihood.ts";
import type { LinkedHistory } from "../../estimation/linked/types.ts";
import { clusterSandwich } from "../common/clusterSandwich.ts";
import { factorPositive } from "../common/factorPositive.ts";
import { profileEnd } from "../common/profileEnd.ts";
import type { Fitter, NamedColumn } from "./fitter.ts";
import type { MemorylessDelay } from "./memorylessDelay.ts";

/**
 * Regression of the time to a defect that leads to a failure, both looked at together: the defect's scale is
 * exp(intercept + x'b), the delay after it follows the law of the fit without columns, held.
 *
 * A defect is never regressed alone: its looks happened because of the failure, and a fit that does not know it takes every
 * early failure for a steep start (shape 0.2 where the truth is 2.4).
 *
 * @param histories  In the order of the columns.
 * @param base       Fit of the same histories without columns.
 */
export function linkedFitter(
  histories: readonly LinkedHistory[],
  serials: readonly string[],
  base: MemorylessDelay,
): Fitter {
  return (columns) => {
    const scaled = columns.map(standardised);
    const surface = linkedSurface(histories, scaled, base.theta);
    const start = [base.theta[0]!, base.theta[1]!, ...columns.map(() => 0)];
    const climbed = climbNewton(surface, start, { tolerance: QUADRATURE, maxIterations: 30 });
    const m = surface.dimension;
    const inverse = factorPositive(
      climbed.hessian.map((value) => -value),
      m,
    )?.inverse();
    if (!inverse || !climbed.converged) return null;
    const errors = columns.map((_, j) => Math.sqrt(inverse[(2 + j) * m + 2 + j]!));
    // Across the whole range of a column: bounded on one side only.
    if (errors.some((error) => !(error < 1e3))) return null;
    const byTool = clusterSandwich(surface.scores(climbed.at), inverse, serials).covariance;
    return {
      logLikelihood: climbed.value,
      coefficients: columns.map((_, j) => climbed.at[2 + j]! / scaled[j]!.range),
      errors: errors.map((error, j) => error / scaled[j]!.range),
      errorsByTool: columns.map((_, j) => Math.sqrt(byTool[(2 + j) * m + 2 + j]!) / scaled[j]!.range),
      covariance: columns.map((_, i) =>
        columns.map((_, j) => inverse[(2 + i) * m + 2 + j]! / (scaled[i]!.range * scaled[j]!.range)),
      ),
      spread: Math.exp(-climbed.at[0]!),
      ends: (column, twiceDrop) => {
        const top = { at: climbed.at, value: climbed.value, inverse };
        const { range } = scaled[column]!;
        const end = (side: -1 | 1) => {
          const found = profileEnd(surface, top, 2 + column, twiceDrop / 2, side, {
            accuracy: CLOSE,
            tolerance: QUADRATURE,
          });
          return found === null ? null : found / range;
        };
        return [end(-1), end(1)];
      },
    };
  };
}

/** Twice the gain below which a step only follows the rounding of the quadrature. */
const QUADRATURE = 1e-5;
/** Of the root of twice the drop: a thousandth of it shows in no bound. */
const CLOSE = 1e-3;

interface Standardised {
  readonly values: Float64Array;
  readonly range: number;
}

function standardised({ values }: NamedColumn): Standardised {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const range =
    values.reduce((most, value) => Math.max(most, value), -Infinity) -
    values.reduce((least, value) => Math.min(least, value), Infinity);
  return { values: values.map((value) => (range > 0 ? (value - mean) / range : 0)), range: range > 0 ? range : 1 };
}

interface LinkedSurface extends Surface {
  readonly scores: (at: readonly number[]) => Float64Array;
}

/** Coordinates: log shape of the defect, intercept of its log scale, coefficients. */
function linkedSurface(
  histories: readonly LinkedHistory[],
  columns: readonly Standardised[],
  theta: readonly number[],
): LinkedSurface {
  const m = 2 + columns.length;
  const rows = histories.map((_, i) => [1, ...columns.map(({ values }) => values[i]!)]);
  const jetOf = (i: number, at: readonly number[]) => {
    let scale = 0;
    rows[i]!.forEach((value, j) => {
      scale += value * at[1 + j]!;
    });
    return linkedLikelihood([histories[i]!], Float64Array.of(at[0]!, scale, theta[2]!, theta[3]!));
  };
  return {
    dimension: m,
    evaluate(at, gradient, hessian) {
      gradient.fill(0);
      hessian.fill(0);
      let value = 0;
      for (let i = 0; i < histories.length; i++) {
        const jet = jetOf(i, at);
        if (!Number.isFinite(jet[0])) return Number.NEGATIVE_INFINITY;
        const row = rows[i]!;
        value += jet[0]!;
        gradient[0]! += jet[1]!;
        hessian[0]! += jet[hessianAt(0, 0)]!;
        for (let a = 0; a < row.length; a++) {
          gradient[1 + a]! += row[a]! * jet[2]!;
          const cross = row[a]! * jet[hessianAt(0, 1)]!;
          hessian[1 + a]! += cross;
          hessian[(1 + a) * m]! += cross;
          for (let b = 0; b < row.length; b++)
            hessian[(1 + a) * m + 1 + b]! += row[a]! * row[b]! * jet[hessianAt(1, 1)]!;
        }
      }
      return value;
    },
    // Shapes beyond e^4 and scales a thousandfold off are no lives of a shop.
    reach: (at, step) =>
      Math.min(1, ...Array.from(step, (value) => 1.5 / Math.max(1.5, Math.abs(value))), at[0]! > 4 ? 0.1 : 1),
    scores(at) {
      const scores = new Float64Array(histories.length * m);
      for (let i = 0; i < histories.length; i++) {
        const jet = jetOf(i, at);
        scores[i * m] = jet[1]!;
        rows[i]!.forEach((value, j) => {
          scores[i * m + 1 + j] = value * jet[2]!;
        });
      }
      return scores;
    },
  };
}
