import { chiSquareQuantile } from "../numerics/index.ts";
import type { WeibullFound } from "./fitWeibull.ts";
import type { LifeSample } from "./types.ts";
import { type WeibullLikelihood, weibullLikelihood } from "./weibullLikelihood.ts";
import { type ProfilePoint, weibullProfile } from "./weibullProfile.ts";
import {
  checkConfidence,
  checkQuantity,
  transformedQuantity,
  untransformed,
  type WeibullQuantity,
} from "./weibullQuantity.ts";

export interface ProfileBounds {
  readonly value: number;
  /** Null: open, the profile never falls below the cut on that side. */
  readonly lower: number | null;
  readonly upper: number | null;
  readonly confidence: number;
  readonly method: "likelihood ratio";
}

/**
 * Likelihood-ratio bounds of a quantity: the values at which twice the drop of the log likelihood, re-maximised with the
 * quantity held there, is the chi-square quantile with one degree of freedom.
 *
 * @param fit         Fitted to the same `sample`.
 * @param confidence  Two-sided, 0 < confidence < 1.
 * @returns           A null end is open: not reached within a factor of e^300 (e^25 for the shape), or for survival
 *                    before it is 0 or 1 in doubles.
 * Errors             "bad-setting" for a confidence, fraction or age out of range.
 * Accuracy           Root of the drop to 1e-11.
 * Source             Meeker & Escobar (1998), sections 8.3.2-8.3.3; Lawless (2003), section 5.1.2.
 */
export function weibullBounds(
  fit: WeibullFound,
  sample: LifeSample,
  quantity: WeibullQuantity,
  confidence: number,
): ProfileBounds {
  checkConfidence(confidence);
  checkQuantity(quantity);
  const likelihood = weibullLikelihood(sample);
  const estimate = estimateOf(fit, likelihood, quantity);
  const drop = 0.5 * chiSquareQuantile(confidence, 1);
  const profile = weibullProfile(likelihood, quantity, estimate, fit.logLikelihood);
  const [low, high] = ([-1, 1] as const).map((side) =>
    profile.end(side, drop, firstGuess(fit, estimate, quantity, side, drop)),
  );
  const below = low ? untransformed(quantity, low.u) : null;
  const above = high ? untransformed(quantity, high.u) : null;
  const [lower, upper] = quantity.kind === "survival" ? [above, below] : [below, above];
  return {
    value: untransformed(quantity, estimate.u),
    lower: lower ?? null,
    upper: upper ?? null,
    confidence,
    method: "likelihood ratio",
  };
}

/** The estimate as a point of the profile. */
export function estimateOf(fit: WeibullFound, likelihood: WeibullLikelihood, quantity: WeibullQuantity): ProfilePoint {
  return {
    u: transformedQuantity(quantity, fit).value,
    shape: fit.shape,
    level: fit.shape * (likelihood.center - Math.log(fit.scale)),
  };
}

/** Where the end would be if the likelihood were normal: the estimate moved along the profile's direction. */
export function firstGuess(
  fit: WeibullFound,
  estimate: ProfilePoint,
  quantity: WeibullQuantity,
  side: 1 | -1,
  drop: number,
): ProfilePoint {
  const { byLogShape, byLogScale } = transformedQuantity(quantity, fit);
  const { logShape, logShapeLogScale, logScale } = fit.covariance;
  const withShape = byLogShape * logShape + byLogScale * logShapeLogScale;
  const withScale = byLogShape * logShapeLogScale + byLogScale * logScale;
  const variance = byLogShape * withShape + byLogScale * withScale;
  const move = (side * Math.sqrt(2 * drop)) / Math.sqrt(variance);
  const shape = fit.shape * Math.exp(Math.max(-2, Math.min(2, move * withShape)));
  // The level goes with the log scale: level = shape * (center - log scale).
  const offset = estimate.level / estimate.shape - move * withScale;
  return { u: estimate.u + move * variance, shape, level: shape * offset };
}
