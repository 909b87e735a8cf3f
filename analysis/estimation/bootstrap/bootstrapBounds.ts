import { normalCdf, normalQuantile } from "../../numerics/index.ts";
import type { EstimationNotice } from "../estimationNotice.ts";
import {
  checkConfidence,
  checkQuantity,
  transformedQuantity,
  untransformed,
  type WeibullQuantity,
} from "../weibullQuantity.ts";
import type { BootstrapReplicates } from "./bootstrapWeibull.ts";

export interface BootstrapBounds {
  readonly value: number;
  /** Null: not to be had from these resamples, see the notices. */
  readonly lower: number | null;
  readonly upper: number | null;
  readonly confidence: number;
  readonly method: "bootstrap, percentile" | "bootstrap, bias-corrected";
  /** Resamples that the bounds rest on. */
  readonly used: number;
  readonly withoutMaximum: number;
  /** Standard deviation of the replicates on the scale of `transformedQuantity`: log, or log(-log) for survival. */
  readonly transformedError: number;
  readonly notices: readonly EstimationNotice[];
}

/**
 * Two-sided bounds of a quantity from bootstrap replicates: the sorted replicates at the probabilities
 *   percentile       a and 1 - a,  a = (1 - confidence) / 2
 *   bias-corrected   Phi(2 z0 + Phi^-1(a)), Phi(2 z0 + Phi^-1(1 - a)),  z0 = Phi^-1(share of replicates below the estimate)
 *
 * Conventions  The sorted replicate at probability p lies at place (B + 1) p, linear between neighbours on the scale of
 *              `transformedQuantity`; an end beyond the first or last replicate is null. Ties with the estimate count half.
 *              Null too where half of the resamples or more have no maximum.
 * Errors       "bad-setting" for a confidence, fraction or age out of range.
 * Source       Efron & Tibshirani (1993), An Introduction to the Bootstrap, sections 13.3 and 14.3 (without acceleration);
 *              Davison & Hinkley (1997), section 5.2.1, for the place (B + 1) p.
 */
export function bootstrapBounds(
  replicates: BootstrapReplicates,
  quantity: WeibullQuantity,
  confidence: number,
  method: "percentile" | "bias-corrected" = "percentile",
): BootstrapBounds {
  checkConfidence(confidence);
  checkQuantity(quantity);
  const { shape, scale, estimate, resamples } = replicates;
  const used = shape.length;
  const sorted = new Float64Array(used);
  for (let b = 0; b < used; b++)
    sorted[b] = transformedQuantity(quantity, { shape: shape[b]!, scale: scale[b]! }).value;
  sorted.sort();
  const center = transformedQuantity(quantity, estimate).value;
  const notices = [...replicates.notices];

  let shift = 0;
  if (method === "bias-corrected" && used > 0) {
    let below = 0;
    for (const value of sorted) below += value < center ? 1 : value === center ? 0.5 : 0;
    shift = 2 * normalQuantile(below / used);
    // Further off than this the corrected ends lean on a handful of replicates. Common practice, no source.
    if (!(Math.abs(shift) < 2))
      notices.push({ code: "bias-correction-extreme", facts: { belowEstimate: below / used } });
  }
  const tail = 0.5 * (1 - confidence);
  const end = (probability: number): number | null => {
    if (used < 0.5 * resamples || !Number.isFinite(shift)) return null;
    const value = at(sorted, shift === 0 ? probability : normalCdf(shift + normalQuantile(probability)));
    return value === null ? null : untransformed(quantity, value);
  };
  const [low, high] = [end(tail), end(1 - tail)];
  const [lower, upper] = quantity.kind === "survival" ? [high, low] : [low, high];
  const mean = sorted.reduce((sum, value) => sum + value, 0) / used;
  const squares = sorted.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return {
    value: untransformed(quantity, center),
    lower,
    upper,
    confidence,
    method: `bootstrap, ${method}`,
    used,
    withoutMaximum: resamples - used,
    transformedError: Math.sqrt(squares / Math.max(1, used - 1)),
    notices,
  };
}

/** Null where (B + 1) p lies before the first or behind the last. */
function at(sorted: Float64Array, probability: number): number | null {
  const place = (sorted.length + 1) * probability - 1;
  const below = Math.floor(place);
  const first = sorted[below];
  if (first === undefined) return null;
  const second = sorted[below + 1];
  if (second === undefined) return place === below ? first : null;
  return first + (place - below) * (second - first);
}
