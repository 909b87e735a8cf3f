import type { LifeSample } from "../types.ts";
import {
  emptyMixture,
  isSteep,
  logAverage,
  logProbability,
  MOST_POINTS,
  meanLogFailureAge,
  panelPoints,
  type Ranged,
  rangedOf,
} from "../weibullLikelihood.ts";

/** The log likelihood of `weibullLikelihood`, life by life, with a weight a life that may change at every call. */
export interface WeightedLikelihood {
  readonly n: number;
  /** Mean log age of the failures: where `level` is measured. */
  readonly center: number;
  /** Writes sum_i weights[i] * [value, d shape, d level, d2 shape shape, d2 shape level, d2 level level] to `out`. */
  evaluate(weights: Float64Array, shape: number, level: number, out: Float64Array): void;
  /** Adds `weight` times the six numbers of one life to `out`. */
  addLife(row: number, weight: number, shape: number, level: number, out: Float64Array): void;
}

const EXACT = 0;
const RIGHT = 1;
const INTERVAL = 2;
const RANGED = 3;

/**
 * Compiles a sample so that resamples need no copy of it: a life that is drawn twice weighs two.
 * The counts of the sample are not applied: the caller's weights are all there is.
 *
 * @param sample  Checked by `lifeSample`; exact failures at ages above 0.
 * Conventions    log H(t) = shape * (log t - center) + level, all density terms kept.
 * Accuracy       As `weibullLikelihood`, to which the tests compare it.
 */
export function weightedLikelihood(sample: LifeSample): WeightedLikelihood {
  const { n } = sample;
  const center = meanLogFailureAge(sample);
  const kind = new Uint8Array(n);
  const from = new Float64Array(n);
  const to = new Float64Array(n);
  const width = new Float64Array(n);
  const entry = new Float64Array(n);
  const constant = new Float64Array(n);
  const ranged = new Map<number, Ranged>();
  let isTruncated = false;

  for (let row = 0; row < n; row++) {
    let low = sample.lower[row]!;
    let high = sample.upper[row]!;
    const lowerHigh = sample.lowerHigh[row]!;
    const upperHigh = sample.upperHigh[row]!;
    entry[row] = Math.log(sample.entry[row]!) - center;
    if (sample.entry[row]! > 0) isTruncated = true;
    if (low === high && lowerHigh === upperHigh) {
      if (low === lowerHigh) {
        kind[row] = EXACT;
        constant[row] = -Math.log(low);
      } else {
        // The density averaged over [lower, lowerHigh] is [S(lower) - S(lowerHigh)] / width.
        kind[row] = INTERVAL;
        constant[row] = -Math.log(lowerHigh - low);
        high = lowerHigh;
      }
    } else if (low === lowerHigh && high === upperHigh) {
      kind[row] = high === Number.POSITIVE_INFINITY ? RIGHT : INTERVAL;
    } else {
      kind[row] = RANGED;
      ranged.set(row, rangedOf(sample, row, 1, center));
      low = 0;
    }
    from[row] = Math.log(low) - center;
    to[row] = Math.log(high) - center;
    width[row] = Math.log1p((high - low) / low);
  }

  const panels = emptyMixture(MOST_POINTS);
  const one = new Float64Array(6);
  const several = new Float64Array(6 * MOST_POINTS);

  const addLife = (row: number, weight: number, shape: number, level: number, out: Float64Array): void => {
    const what = kind[row]!;
    if (what === EXACT || what === RIGHT) {
      const y = from[row]!;
      const hazard = y === Number.NEGATIVE_INFINITY ? 0 : weight * Math.exp(shape * y + level);
      const slope = hazard === 0 ? 0 : hazard * y;
      out[0]! -= hazard;
      out[1]! -= slope;
      out[2]! -= hazard;
      out[3]! -= slope === 0 ? 0 : slope * y;
      out[4]! -= slope;
      out[5]! -= hazard;
      if (what === EXACT) {
        out[0]! += weight * (Math.log(shape) + level + shape * y + constant[row]!);
        out[1]! += weight * (1 / shape + y);
        out[2]! += weight;
        out[3]! -= weight / (shape * shape);
      }
    } else {
      if (what === INTERVAL) logProbability(shape, level, from[row]!, to[row]!, width[row]!, one, 0);
      else {
        const life = ranged.get(row)!;
        const points = isSteep(life, shape, level) ? panelPoints(life, shape, level, panels) : life.points;
        logAverage(shape, level, points, several, one);
      }
      out[0]! += weight * (one[0]! + constant[row]!);
      for (let k = 1; k < 6; k++) out[k]! += weight * one[k]!;
    }
    if (isTruncated && entry[row] !== Number.NEGATIVE_INFINITY) {
      const y = entry[row]!;
      const hazard = weight * Math.exp(shape * y + level);
      out[0]! += hazard;
      out[1]! += hazard * y;
      out[2]! += hazard;
      out[3]! += hazard * y * y;
      out[4]! += hazard * y;
      out[5]! += hazard;
    }
  };

  const evaluate = (weights: Float64Array, shape: number, level: number, out: Float64Array): void => {
    out.fill(0);
    for (let row = 0; row < n; row++) {
      const weight = weights[row]!;
      if (weight !== 0) addLife(row, weight, shape, level, out);
    }
    if (!(out[0]! > -1e250)) out[0] = Number.NEGATIVE_INFINITY;
  };
  return { n, center, evaluate, addLife };
}
