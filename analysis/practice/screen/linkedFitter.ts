import { climbNewton, type Surface } from "../../estimation/climbNewton.ts";
import type { LinkedFound } from "../../estimation/linked/fitLinked.ts";
import { hessianAt, linkedLikelihood } from "../../estimation/linked/linkedLikelihood.ts";
import type { LinkedHistory } from "../../estimation/linked/types.ts";
import { clusterSandwich } from "../common/clusterSandwich.ts";
import { factorPositive } from "../common/factorPositive.ts";
import type { Fitter, NamedColumn } from "./fitter.ts";

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
  base: LinkedFound,
): Fitter {
  return (columns) => {
    const scaled = columns.map(standardised);
    const surface = linkedSurface(histories, scaled, base.theta);
    const start = [base.theta[0]!, base.theta[1]!, ...columns.map(() => 0)];
    const climbed = climbNewton(surface, start, { tolerance: QUADRATURE, maxIterations: 60 });
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
          const found = endOfProfile(surface, top, 2 + column, twiceDrop, side);
          return found === null ? null : found / range;
        };
        return [end(-1), end(1)];
      },
    };
  };
}

/** Twice the gain below which a step only follows the rounding of the quadrature. */
const QUADRATURE = 1e-8;
/** Of the root of twice the drop: a thousandth of a standard error. */
const CLOSE = 1e-3;
/** Standard errors from the estimate beyond which an end counts as unbounded. */
const FAR = 60;

/**
 * Where the likelihood, re-maximised over the other coordinates, has dropped by half of `twiceDrop`: Newton's method on the
 * root of twice the drop, whose slope is the gradient at the constrained top over the root itself.
 */
function endOfProfile(
  surface: Surface,
  top: { readonly at: readonly number[]; readonly value: number; readonly inverse: Float64Array },
  coordinate: number,
  twiceDrop: number,
  side: -1 | 1,
): number | null {
  const m = surface.dimension;
  const variance = top.inverse[coordinate * m + coordinate]!;
  const target = Math.sqrt(twiceDrop);
  const error = Math.sqrt(variance);
  const estimate = top.at[coordinate]!;
  const gradient = new Float64Array(m);
  const hessian = new Float64Array(m * m);
  let u = estimate + side * target * error;
  let others = top.at.map((value, i) => value + (top.inverse[i * m + coordinate]! / variance) * (u - estimate));
  for (let iteration = 0; iteration < 25; iteration++) {
    if (Math.abs(u - estimate) > FAR * error) return null;
    const held = climbNewton(
      heldAt(surface, coordinate, u),
      others.filter((_, i) => i !== coordinate),
      {
        tolerance: QUADRATURE,
        maxIterations: 40,
      },
    );
    const at = [...held.at.slice(0, coordinate), u, ...held.at.slice(coordinate)];
    surface.evaluate(at, gradient, hessian);
    const root = Math.sqrt(Math.max(0, 2 * (top.value - held.value)));
    if (Math.abs(root - target) < CLOSE) return u;
    const slope = -gradient[coordinate]! / Math.max(root, 1e-6);
    // Where the likelihood flattens out, a Newton step would leave the map.
    const step = slope * side > 0 ? (target - root) / slope : side * error * target;
    u += Math.sign(step) * Math.min(Math.abs(step), 2 * target * error);
    others = at;
  }
  return null;
}

/** The surface with one coordinate held. */
function heldAt(surface: Surface, coordinate: number, u: number): Surface {
  const m = surface.dimension;
  const gradient = new Float64Array(m);
  const hessian = new Float64Array(m * m);
  const whole = (at: readonly number[]) => [...at.slice(0, coordinate), u, ...at.slice(coordinate)];
  const free = Array.from({ length: m }, (_, i) => i).filter((i) => i !== coordinate);
  return {
    dimension: m - 1,
    evaluate(at, ownGradient, ownHessian) {
      const value = surface.evaluate(whole(at), gradient, hessian);
      free.forEach((i, a) => {
        ownGradient[a] = gradient[i]!;
        free.forEach((j, b) => {
          ownHessian[a * (m - 1) + b] = hessian[i * m + j]!;
        });
      });
      return value;
    },
    reach: () => 1,
  };
}

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
