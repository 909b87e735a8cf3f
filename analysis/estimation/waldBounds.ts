import { normalQuantile } from "../numerics/index.ts";
import type { WeibullFound } from "./fitWeibull.ts";
import {
  checkConfidence,
  checkQuantity,
  transformedQuantity,
  untransformed,
  type WeibullQuantity,
} from "./weibullQuantity.ts";

export interface WaldBounds {
  readonly value: number;
  /** Standard error on the quantity's own scale, by the delta method. */
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
  readonly confidence: number;
  readonly method: "Wald";
}

/**
 * Normal-theory bounds from the observed information: symmetric on the log scale for shape, scale, quantiles and mean,
 * on the logit scale for survival. With few failures the likelihood-ratio bounds are the ones to trust.
 *
 * @param confidence  Two-sided, 0 < confidence < 1.
 * Errors             "bad-setting" for a confidence, fraction or age out of range.
 * Source             Meeker & Escobar (1998), Statistical Methods for Reliability Data, section 8.4.
 */
export function weibullWaldBounds(fit: WeibullFound, quantity: WeibullQuantity, confidence: number): WaldBounds {
  checkConfidence(confidence);
  checkQuantity(quantity);
  const at = transformedQuantity(quantity, fit);
  const { logShape, logShapeLogScale, logScale } = fit.covariance;
  const error = Math.sqrt(
    at.byLogShape ** 2 * logShape +
      2 * at.byLogShape * at.byLogScale * logShapeLogScale +
      at.byLogScale ** 2 * logScale,
  );
  const z = -normalQuantile(0.5 * (1 - confidence));
  const value = untransformed(quantity, at.value);
  if (quantity.kind === "survival") {
    const hazard = Math.exp(at.value);
    // logit S = -log(exp(H) - 1), and d logit S / d log H = -H / (1 - exp(-H)).
    const logit = -Math.log(Math.expm1(hazard));
    const width = z * error * (hazard / -Math.expm1(-hazard));
    return {
      value,
      standardError: error * hazard * value,
      lower: 1 / (1 + Math.exp(width - logit)),
      upper: 1 / (1 + Math.exp(-width - logit)),
      confidence,
      method: "Wald",
    };
  }
  return {
    value,
    standardError: value * error,
    lower: value * Math.exp(-z * error),
    upper: value * Math.exp(z * error),
    confidence,
    method: "Wald",
  };
}
