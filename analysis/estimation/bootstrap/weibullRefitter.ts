import { fitWeibull } from "../fitWeibull.ts";
import type { LifeSample, Maximum } from "../types.ts";
import { fitWeighted } from "./fitWeighted.ts";
import { type WeightedLikelihood, weightedLikelihood } from "./weightedLikelihood.ts";
import { weightedSample } from "./weightedSample.ts";

export type Refit =
  | { readonly maximum: "found"; readonly shape: number; readonly scale: number; readonly logLikelihood: number }
  | { readonly maximum: Exclude<Maximum, "found"> };

export interface WeibullRefitter {
  readonly likelihood: WeightedLikelihood;
  /** Maximum with these weights, or why there is none: the same answer as `fitWeibull` of the weighted lives. */
  refit(weights: Float64Array): Refit;
}

/** A variance of log shape above this, per failure, says nothing about the shape; `fitWeibull` then decides. */
const NEARLY_FLAT = 100;

/**
 * Fits the same lives again and again with other weights, each time from the estimate of the whole sample.
 *
 * @param start  Estimate of the whole sample.
 */
export function weibullRefitter(
  sample: LifeSample,
  start: { readonly shape: number; readonly scale: number },
): WeibullRefitter {
  const { n } = sample;
  const likelihood = weightedLikelihood(sample);
  const from = { shape: start.shape, level: start.shape * (likelihood.center - Math.log(start.scale)) };
  const isFailure = Uint8Array.from({ length: n }, (_, row) =>
    sample.upper[row] === Number.POSITIVE_INFINITY ? 0 : 1,
  );
  const isExact = (row: number): boolean =>
    sample.lower[row] === sample.upper[row] && sample.lowerHigh[row] === sample.upperHigh[row];
  // One age agrees with every life: surely (inner ends), or perhaps, where ends are ranges (outer ends).
  const innerLow = Float64Array.from({ length: n }, (_, row) =>
    isExact(row) ? sample.lower[row]! : sample.lowerHigh[row]!,
  );
  const innerHigh = Float64Array.from({ length: n }, (_, row) =>
    isExact(row) ? sample.upperHigh[row]! : sample.upper[row]!,
  );
  const isRanged = sample.lower.some(
    (lower, row) => lower !== sample.lowerHigh[row] || sample.upper[row] !== sample.upperHigh[row],
  );

  const refit = (weights: Float64Array): Refit => {
    let failures = 0;
    let low = 0;
    let high = Number.POSITIVE_INFINITY;
    let outerLow = 0;
    let outerHigh = Number.POSITIVE_INFINITY;
    for (let row = 0; row < n; row++) {
      const weight = weights[row]!;
      if (weight === 0) continue;
      if (isFailure[row]) failures += weight;
      if (innerLow[row]! > low) low = innerLow[row]!;
      if (innerHigh[row]! < high) high = innerHigh[row]!;
      if (isRanged) {
        if (sample.lower[row]! > outerLow) outerLow = sample.lower[row]!;
        if (sample.upperHigh[row]! < outerHigh) outerHigh = sample.upperHigh[row]!;
      }
    }
    if (failures === 0) return { maximum: "no failures" };
    if (low <= high) return { maximum: "shape not bounded above" };
    const isPlain = !isRanged || outerLow > outerHigh;
    const quick = isPlain ? fitWeighted(likelihood, weights, from) : null;
    if (quick) {
      const { shape, level, at } = quick;
      const determinant = at[3]! * at[5]! - at[4]! * at[4]!;
      const varianceOfLogShape = -at[5]! / (determinant * shape * shape);
      if (varianceOfLogShape > 0 && varianceOfLogShape * failures < NEARLY_FLAT) {
        const scale = Math.exp(likelihood.center - level / shape);
        return { maximum: "found", shape, scale, logLikelihood: at[0]! };
      }
    }
    const slow = fitWeibull(weightedSample(sample, weights));
    if (slow.maximum !== "found") return { maximum: slow.maximum };
    const { shape, scale, logLikelihood } = slow;
    return { maximum: "found", shape, scale, logLikelihood };
  };
  return { likelihood, refit };
}
