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
export function weibull(parameters: WeibullParameters): Weibull {
  return new WeibullLaw(parameters);
}

/** A class, for laws are made by the million where futures are drawn: closures and moments for each would cost most of it. */
class WeibullLaw implements Weibull {
  readonly shape: number;
  readonly scale: number;

  constructor({ shape, scale }: WeibullParameters) {
    checkPositive("shape", shape);
    checkPositive("scale", scale);
    this.shape = shape;
    this.scale = scale;
  }

  density(age: number): number {
    return Math.exp(this.logDensity(age));
  }

  logDensity(age: number): number {
    return age < 0 ? Number.NEGATIVE_INFINITY : this.#logHazard(age) - this.cumulativeHazard(age);
  }

  survival(age: number): number {
    return Math.exp(-this.cumulativeHazard(age));
  }

  logSurvival(age: number): number {
    return -this.cumulativeHazard(age);
  }

  failedFraction(age: number): number {
    return -Math.expm1(-this.cumulativeHazard(age));
  }

  logFailedFraction(age: number): number {
    const hazard = this.cumulativeHazard(age);
    if (hazard < 1e-300) return age <= 0 ? Number.NEGATIVE_INFINITY : this.shape * Math.log(age / this.scale);
    return hazard < Math.LN2 ? Math.log(-Math.expm1(-hazard)) : Math.log1p(-Math.exp(-hazard));
  }

  hazard(age: number): number {
    return age < 0 ? 0 : Math.exp(this.#logHazard(age));
  }

  cumulativeHazard(age: number): number {
    return age <= 0 ? 0 : (age / this.scale) ** this.shape;
  }

  quantile(fraction: number): number {
    return this.scale * (-Math.log1p(-checkFraction(fraction))) ** (1 / this.shape);
  }

  survivalQuantile(fraction: number): number {
    return this.scale * (-Math.log(checkFraction(fraction))) ** (1 / this.shape);
  }

  conditionalSurvival(age: number, more: number): number {
    if (age <= 0) return this.survival(age + more);
    // H(age + more) - H(age) without subtracting near equals.
    return Math.exp(-this.cumulativeHazard(age) * Math.expm1(this.shape * Math.log1p(more / age)));
  }

  get mean(): number {
    return this.scale * gamma(1 + 1 / this.shape);
  }

  get variance(): number {
    return this.scale * this.scale * varianceOfUnitScale(this.shape);
  }

  #logHazard(age: number): number {
    const { shape, scale } = this;
    return Math.log(shape) - Math.log(scale) + (shape === 1 ? 0 : (shape - 1) * Math.log(age / scale));
  }
}

function checkPositive(setting: string, value: number): void {
  if (!(value > 0 && Number.isFinite(value))) throw new AnalysisError("bad-setting", { setting, value: String(value) });
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
