import { AnalysisError } from "../../errors.ts";
import { chiSquareQuantile, chiSquareUpperTail, findRoot } from "../../numerics/index.ts";
import { checkOneEach } from "../bootstrap/sampleRows.ts";
import { fitWeibull } from "../fitWeibull.ts";
import { scaledSample } from "../groups/scaledSample.ts";
import type { LifeSample, Maximum } from "../types.ts";
import { checkConfidence } from "../weibullQuantity.ts";

export type TrendOfLife =
  | {
      readonly maximum: "found";
      readonly shape: number;
      /** Life is multiplied by this for each unit of the score. */
      readonly factor: number;
      /** Likelihood-ratio bounds of the factor; null: open. */
      readonly lower: number | null;
      readonly upper: number | null;
      readonly confidence: number;
      readonly statistic: number;
      /** Of no trend, chi-square with one degree of freedom; lives taken as independent. */
      readonly pValue: number;
      readonly method: "likelihood ratio";
    }
  | { readonly maximum: Exclude<Maximum, "found"> };

/**
 * Does life change along a score? Weibull with one shape and scale_i = scale * factor^(score_i): dividing each age by its factor makes
 * all lives one law, so each factor costs one fit.
 *
 * @param score  One a life, finite, not all alike.
 * @returns      Why there is no maximum, where the lives have no common law or the trend runs away (no failures at one end).
 * Errors        "bad-setting" for scores of the wrong number, not finite or all alike.
 * Accuracy      Factor to about 1e-8 over the range of scores.
 * Source        Lawless (2003), section 6.3 (Weibull regression, one covariate).
 */
export function trendOfLife(sample: LifeSample, score: readonly number[], confidence: number): TrendOfLife {
  checkConfidence(confidence);
  checkOneEach("score", score, sample);
  const low = Math.min(...score);
  const range = Math.max(...score) - low;
  if (!(range > 0 && Number.isFinite(range))) {
    throw new AnalysisError("bad-setting", { setting: "score", value: String(range) });
  }
  const place = score.map((one) => (one - low) / range);
  const flat = fitWeibull(sample);
  if (flat.maximum !== "found") return { maximum: flat.maximum };
  const fitAt = (slope: number) => {
    const { sample: scaled, logJacobian } = scaledSample(
      sample,
      Float64Array.from(place, (x) => Math.exp(-slope * x)),
    );
    const fit = fitWeibull(scaled);
    return fit.maximum === "found"
      ? { value: fit.logLikelihood + logJacobian, shape: fit.shape }
      : { value: Number.NEGATIVE_INFINITY, shape: Number.NaN };
  };
  const best = highestSlope((slope) => fitAt(slope).value);
  if (best === null) return { maximum: "scale not bounded" };
  const top = fitAt(best);
  const cut = 0.5 * chiSquareQuantile(confidence, 1);
  const end = (side: 1 | -1): number | null => {
    const over = (distance: number): number => Math.min(1e6, top.value - fitAt(best + side * distance).value) - cut;
    let inside = 0;
    for (let outside = 0.1; outside <= FARTHEST; outside *= 1.8) {
      if (over(outside) >= 0) {
        const from = inside === 0 ? { atLow: -cut } : {};
        return Math.exp((best + side * findRoot(over, inside, outside, { tolerance: 1e-9, ...from })) / range);
      }
      inside = outside;
    }
    return null;
  };
  const statistic = Math.max(0, 2 * (top.value - flat.logLikelihood));
  return {
    maximum: "found",
    shape: top.shape,
    factor: Math.exp(best / range),
    lower: end(-1),
    upper: end(1),
    confidence,
    statistic,
    pValue: chiSquareUpperTail(statistic, 1),
    method: "likelihood ratio",
  };
}

/** A trend that multiplies life by more than e^12 over the scores is none that lives can show. */
const FARTHEST = 12;

/** Golden section after walking uphill; null where it walks out of sight. */
function highestSlope(f: (slope: number) => number): number | null {
  let [low, middle, high] = [-0.5, 0, 0.5];
  let [atLow, atMiddle, atHigh] = [f(low), f(middle), f(high)];
  while (atMiddle < atLow || atMiddle < atHigh) {
    const up = atHigh > atLow;
    const next = up ? high + (high - middle) * 1.6 : low - (middle - low) * 1.6;
    if (Math.abs(next) > FARTHEST) return null;
    if (up) [low, atLow, middle, atMiddle, high, atHigh] = [middle, atMiddle, high, atHigh, next, f(next)];
    else [high, atHigh, middle, atMiddle, low, atLow] = [middle, atMiddle, low, atLow, next, f(next)];
  }
  const golden = (3 - Math.sqrt(5)) / 2;
  while (high - low > 1e-7) {
    const wider = high - middle > middle - low;
    const probe = wider ? middle + golden * (high - middle) : middle - golden * (middle - low);
    const at = f(probe);
    if (at > atMiddle) {
      if (wider) low = middle;
      else high = middle;
      [middle, atMiddle] = [probe, at];
    } else if (wider) high = probe;
    else low = probe;
  }
  return middle;
}
