import { AnalysisError } from "../errors.ts";
import { gamma, logGamma } from "../numerics/index.ts";

export interface WeibullParameters {
  /** Shape beta > 0: below 1 a falling hazard, 1 constant, above 1 rising. */
  readonly shape: number;
  /** Scale eta > 0, the characteristic life: 63.2 % have failed by it. Unit of age. */
  readonly scale: number;
}

/** A Weibull law. Ages >= 0 in the unit of the scale. */
export interface Weibull extends WeibullParameters {
  /** f(t), per unit of age. Infinite at 0 where shape < 1. */
  density(age: number): number;
  logDensity(age: number): number;
  /** S(t) = P(T > t). */
  survival(age: number): number;
  logSurvival(age: number): number;
  /** F(t) = 1 - S(t), accurate for small t. */
  failedFraction(age: number): number;
  logFailedFraction(age: number): number;
  /** h(t) = f(t) / S(t), per unit of age. */
  hazard(age: number): number;
  /** H(t) = -log S(t). */
  cumulativeHazard(age: number): number;
  /** Age by which a fraction p has failed; 0 <= p <= 1. */
  quantile(failedFraction: number): number;
  /** Age that a fraction s survives, accurate for small s; 0 <= s <= 1. */
  survivalQuantile(survivingFraction: number): number;
  /** P(T > age + more | T > age). */
  conditionalSurvival(age: number, more: number): number;
  readonly mean: number;
  readonly variance: number;
}

/**
 * The Weibull distribution S(t) = exp(-(t / scale)^shape), t >= 0.
 * Every function is written through the cumulative hazard H, so neither tail loses digits.
 *
 * Errors  "bad-setting" where shape or scale is not a finite number above 0.
 * Source  Weibull (1951), J. Appl. Mech. 18, 293-297; notation of Lawless (2003), section 1.3.2.
 */
export function weibull({ shape, scale }: WeibullParameters): Weibull {
  for (const [setting, value] of [
    ["shape", shape],
    ["scale", scale],
  ] as const) {
    if (!(value > 0 && Number.isFinite(value)))
      throw new AnalysisError("bad-setting", { setting, value: String(value) });
  }
  const cumulativeHazard = (age: number): number => (age <= 0 ? 0 : (age / scale) ** shape);
  const logSurvival = (age: number): number => -cumulativeHazard(age);
  const logHazard = (age: number): number =>
    Math.log(shape) - Math.log(scale) + (shape === 1 ? 0 : (shape - 1) * Math.log(age / scale));
  const logDensity = (age: number): number => {
    if (age < 0) return Number.NEGATIVE_INFINITY;
    return logHazard(age) - cumulativeHazard(age);
  };
  return {
    shape,
    scale,
    density: (age) => Math.exp(logDensity(age)),
    logDensity,
    survival: (age) => Math.exp(logSurvival(age)),
    logSurvival,
    failedFraction: (age) => -Math.expm1(logSurvival(age)),
    logFailedFraction: (age) => {
      const hazard = cumulativeHazard(age);
      if (hazard < 1e-300) return age <= 0 ? Number.NEGATIVE_INFINITY : shape * Math.log(age / scale);
      return hazard < Math.LN2 ? Math.log(-Math.expm1(-hazard)) : Math.log1p(-Math.exp(-hazard));
    },
    hazard: (age) => (age < 0 ? 0 : Math.exp(logHazard(age))),
    cumulativeHazard,
    quantile: (fraction) => scale * (-Math.log1p(-checkFraction(fraction))) ** (1 / shape),
    survivalQuantile: (fraction) => scale * (-Math.log(checkFraction(fraction))) ** (1 / shape),
    conditionalSurvival: (age, more) => {
      if (age <= 0) return Math.exp(logSurvival(age + more));
      // H(age + more) - H(age) without subtracting near equals.
      return Math.exp(-cumulativeHazard(age) * Math.expm1(shape * Math.log1p(more / age)));
    },
    mean: scale * gamma(1 + 1 / shape),
    variance: scale * scale * varianceOfUnitScale(shape),
  };
}

/** Gamma(1 + 2/shape) - Gamma(1 + 1/shape)^2. */
function varianceOfUnitScale(shape: number): number {
  const logSquare = 2 * logGamma(1 + 1 / shape);
  return Math.exp(logSquare) * Math.expm1(logGamma(1 + 2 / shape) - logSquare);
}

function checkFraction(fraction: number): number {
  if (!(fraction >= 0 && fraction <= 1)) {
    throw new AnalysisError("bad-setting", { setting: "fraction", value: String(fraction) });
  }
  return fraction;
}
