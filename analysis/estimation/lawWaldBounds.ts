import { type LawFamily, lawFamilies, type Theta } from "../distributions/lawFamilies.ts";
import { lawPoint, TEN } from "../distributions/lawPoint.ts";
import { normalQuantile } from "../numerics/index.ts";
import type { LawFound } from "./fitLaw.ts";
import {
  checkLawQuantity,
  type LawQuantity,
  meanWithDerivatives,
  parameterOf,
  quantileOf,
  quantityAt,
} from "./lawQuantity.ts";
import type { WaldBounds } from "./waldBounds.ts";
import { checkConfidence } from "./weibullQuantity.ts";

/**
 * Normal-theory bounds from the observed information: symmetric on the log scale for positive parameters and for quantiles and
 * mean of the laws of log age, on the logit scale for survival, and on the natural scale otherwise.
 *
 * @param confidence  Two-sided, 0 < confidence < 1.
 * Errors             "bad-setting" for a confidence, parameter, fraction or age out of range.
 * Source             Meeker & Escobar (1998), section 8.4.
 */
export function lawWaldBounds(fit: LawFound, quantity: LawQuantity, confidence: number): WaldBounds {
  const family = lawFamilies[fit.law];
  checkConfidence(confidence);
  checkLawQuantity(family, quantity);
  const { gradient, scale } = gradientOf(family, fit.theta, quantity);
  const error = Math.sqrt(varianceAlong(fit, gradient));
  const value = quantityAt(family, fit.theta, quantity);
  const width = -normalQuantile(0.5 * (1 - confidence)) * error;
  const common = { value, confidence, method: "Wald" } as const;
  if (scale === "natural") return { ...common, standardError: error, lower: value - width, upper: value + width };
  if (scale === "log") {
    return { ...common, standardError: value * error, lower: value * Math.exp(-width), upper: value * Math.exp(width) };
  }
  const point = lawPoint(family);
  const out = new Float64Array(TEN);
  const age = quantity.kind === "survival" ? quantity.age : 0;
  point.logSurvival(age, fit.theta, out);
  const logSurvival = out[0]!;
  point.logFailed(age, fit.theta, out);
  const logit = logSurvival - out[0]!;
  return {
    ...common,
    standardError: error * value * Math.exp(out[0]!),
    lower: 1 / (1 + Math.exp(width - logit)),
    upper: 1 / (1 + Math.exp(-width - logit)),
  };
}

/** g' C g with C the covariance of theta. */
export function varianceAlong(fit: LawFound, gradient: readonly number[]): number {
  const along = covarianceAlong(fit, gradient);
  return along.reduce((sum, value, i) => sum + value * gradient[i]!, 0);
}

/** C g, 0 for the coordinates that are fixed. */
export function covarianceAlong(fit: LawFound, gradient: readonly number[]): [number, number, number] {
  const { parameters } = lawFamilies[fit.law];
  const along: [number, number, number] = [0, 0, 0];
  parameters.forEach((one, i) => {
    parameters.forEach((other, j) => {
      const covariance = one.sign * other.sign * fit.covariance.matrix[i]![j]!;
      along[one.index] += covariance * gradient[other.index]!;
    });
  });
  return along;
}

/** Derivatives by theta of the quantity on the scale on which its bounds are symmetric. */
function gradientOf(
  family: LawFamily,
  theta: Theta,
  quantity: LawQuantity,
): { readonly gradient: readonly [number, number, number]; readonly scale: "log" | "logit" | "natural" } {
  const sigma = Math.exp(theta[1]);
  const scale = family.ageScale === "log" ? "log" : "natural";
  switch (quantity.kind) {
    case "parameter": {
      const { index, sign, isLog } = parameterOf(family, quantity.name);
      const gradient: [number, number, number] = [0, 0, 0];
      gradient[index] = sign;
      return { gradient, scale: isLog ? "log" : "natural" };
    }
    case "quantile": {
      const { w, byQ } = quantileOf(family, quantity.failedFraction, theta[2]);
      if (family.ageScale !== "above threshold") return { gradient: [1, sigma * w, sigma * byQ], scale };
      const above = Math.exp(theta[0] + sigma * w);
      return { gradient: [above, above * sigma * w, 1], scale };
    }
    case "survival": {
      const out = new Float64Array(TEN);
      const point = lawPoint(family);
      point.logFailed(quantity.age, theta, out);
      const failed = Math.exp(out[0]!);
      point.logSurvival(quantity.age, theta, out);
      return { gradient: [out[1]! / failed, out[2]! / failed, out[3]! / failed], scale: "logit" };
    }
    case "mean": {
      const mean = meanWithDerivatives(family, theta[1], theta[2]);
      if (family.ageScale !== "above threshold") return { gradient: [1, mean.s, mean.q], scale };
      const above = Math.exp(theta[0] + mean.value);
      return { gradient: [above, above * mean.s, 1], scale };
    }
  }
}
