import { chiSquareQuantile } from "../numerics/index.ts";
import type { WeibullFound } from "./fitWeibull.ts";
import { estimateOf, firstGuess } from "./profileBounds.ts";
import type { LifeSample } from "./types.ts";
import { weibullLikelihood } from "./weibullLikelihood.ts";
import { type ProfilePoint, weibullProfile } from "./weibullProfile.ts";
import { checkConfidence, checkQuantity, untransformed } from "./weibullQuantity.ts";

/** A survival curve with its bounds; all arrays as long as the ages asked for. */
export interface SurvivalBand {
  readonly age: readonly number[];
  readonly value: readonly number[];
  /** 0 where that end is open. */
  readonly lower: readonly number[];
  /** 1 where that end is open. */
  readonly upper: readonly number[];
  readonly confidence: number;
  readonly method: "likelihood ratio";
}

/** Shape from which an end is sought, over the fitted one, where the end before lies at shape 0. */
const LEAST_START = 1e-3;

/**
 * Pointwise likelihood-ratio bounds of survival on a grid: at each age the same as `weibullBounds` of that survival.
 * Each end starts from that of the age before, so a grid costs a few evaluations of the likelihood an age.
 *
 * @param ages  >= 0, any order; fastest ascending. At age 0 survival and both bounds are 1.
 * Errors       "bad-setting" for a confidence or an age out of range.
 */
export function survivalBand(
  fit: WeibullFound,
  sample: LifeSample,
  ages: readonly number[],
  confidence: number,
): SurvivalBand {
  checkConfidence(confidence);
  const likelihood = weibullLikelihood(sample);
  const drop = 0.5 * chiSquareQuantile(confidence, 1);
  const value: number[] = [];
  const lower: number[] = [];
  const upper: number[] = [];
  let below: ProfilePoint | null = null;
  let above: ProfilePoint | null = null;
  for (const age of ages) {
    if (age === 0) {
      value.push(1);
      lower.push(1);
      upper.push(1);
      continue;
    }
    const quantity = { kind: "survival", age } as const;
    checkQuantity(quantity);
    const estimate = estimateOf(fit, likelihood, quantity);
    const profile = weibullProfile(likelihood, quantity, estimate, fit.logLikelihood);
    const moved = (from: ProfilePoint | null, side: 1 | -1): ProfilePoint => {
      if (!from) return firstGuess(fit, estimate, quantity, side, drop);
      const u = from.shape * (Math.log(age) - likelihood.center) + from.level;
      // An end at shape 0 is left behind where the next one lies inside: from 0 itself no step leads away.
      const shape = Math.max(from.shape, LEAST_START * fit.shape);
      return { ...from, shape, u: side * (u - estimate.u) > 0 ? u : estimate.u + side * 1e-3 };
    };
    below = profile.end(-1, drop, moved(below, -1));
    above = profile.end(1, drop, moved(above, 1));
    value.push(untransformed(quantity, estimate.u));
    lower.push(above ? untransformed(quantity, above.u) : 0);
    upper.push(below ? untransformed(quantity, below.u) : 1);
  }
  return { age: [...ages], value, lower, upper, confidence, method: "likelihood ratio" };
}
