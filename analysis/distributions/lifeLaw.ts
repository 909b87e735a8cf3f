import { AnalysisError } from "../errors.ts";
import { logComplement } from "../numerics/index.ts";
import { type LawName, lawFamilies, parameterValue, type Theta } from "./lawFamilies.ts";
import { lawPoint } from "./lawPoint.ts";
import { meanOfLaw } from "./meanOfLaw.ts";
import { meanResidualLife } from "./meanResidualLife.ts";
import { standardQuantile } from "./standard/standardQuantile.ts";

/** A law of life with known parameters. Ages in the unit of its scale. */
export interface LifeLaw {
  readonly name: LawName;
  readonly parameters: Readonly<Record<string, number>>;
  /** f(t), per unit of age. */
  density(age: number): number;
  logDensity(age: number): number;
  /** S(t) = P(T > t). */
  survival(age: number): number;
  logSurvival(age: number): number;
  /** F(t) = P(T <= t), accurate where it is small. */
  failedFraction(age: number): number;
  logFailedFraction(age: number): number;
  /** h(t) = f(t) / S(t), per unit of age; finite where both have underflowed. */
  hazard(age: number): number;
  /** H(t) = -log S(t). */
  cumulativeHazard(age: number): number;
  /** Age by which a fraction p has failed; 0 <= p <= 1. */
  quantile(failedFraction: number): number;
  /** Age that a fraction s survives, accurate for small s; 0 <= s <= 1. */
  survivalQuantile(survivingFraction: number): number;
  /** P(T > age + more | T > age). */
  conditionalSurvival(age: number, more: number): number;
  /** E(T); Infinity where the law has no mean. */
  readonly mean: number;
  /** E(T - age | T > age); Infinity where the law has no mean. */
  meanResidualLife(age: number): number;
}

/**
 * A law by name and parameters (parametrisations: `lawFamilies.ts`).
 *
 * Conventions  Ages below 0, or below the threshold, are survived by all. The normal and the smallest extreme value law live
 *              on the whole line and are not cut at 0.
 * Errors       "bad-setting" where a parameter is missing, not finite, or not above 0 where it must be.
 * Accuracy     relative 1e-12 in both tails, also of logarithms where the value itself has underflowed.
 */
export function lifeLaw(name: LawName, parameters: Readonly<Record<string, number>>): LifeLaw {
  return { ...lawFromTheta(name, thetaOf(name, parameters)), parameters };
}

/** Parameters to (mu, log sigma, third). */
export function thetaOf(name: LawName, parameters: Readonly<Record<string, number>>): Theta {
  const theta: [number, number, number] = [0, 0, 0];
  for (const { name: setting, index, sign, isLog } of lawFamilies[name].parameters) {
    const value = parameters[setting] ?? Number.NaN;
    if (!Number.isFinite(value) || (isLog && value <= 0)) {
      throw new AnalysisError("bad-setting", { setting, value: String(parameters[setting] ?? "missing") });
    }
    theta[index] = sign * (isLog ? Math.log(value) : value);
  }
  return theta;
}

export function lawFromTheta(name: LawName, theta: Theta): LifeLaw {
  const family = lawFamilies[name];
  const point = lawPoint(family);
  const out = new Float64Array(10);
  const starts = family.ageScale === "natural" ? Number.NEGATIVE_INFINITY : family.ageScale === "log" ? 0 : theta[2];
  const logDensity = (age: number): number => {
    if (age < starts) return Number.NEGATIVE_INFINITY;
    if (age === starts) return logDensityAtStart(name, theta, (near) => logDensity(near));
    point.logDensity(age, theta, out);
    return out[0]!;
  };
  const logSurvival = (age: number): number => {
    if (age <= starts) return 0;
    if (age === Number.POSITIVE_INFINITY) return Number.NEGATIVE_INFINITY;
    point.logSurvival(age, theta, out);
    return out[0]!;
  };
  const logFailed = (age: number): number => {
    if (age <= starts) return Number.NEGATIVE_INFINITY;
    if (age === Number.POSITIVE_INFINITY) return 0;
    point.logFailed(age, theta, out);
    return out[0]!;
  };
  const ageOf = (logSurviving: number, logFailing: number): number =>
    point.ageAt(standardQuantile(family.standard, logSurviving, logFailing, theta[2]), theta);
  const conditionalSurvival = (age: number, more: number): number =>
    more <= 0 ? 1 : Math.exp(Math.min(0, logSurvival(age + more) - logSurvival(age)));
  const atLogSurvival = (value: number): number => ageOf(value, logComplement(value));
  return {
    name,
    parameters: Object.fromEntries(family.parameters.map((one) => [one.name, parameterValue(one, theta)])),
    density: (age) => Math.exp(logDensity(age)),
    logDensity,
    survival: (age) => Math.exp(logSurvival(age)),
    logSurvival,
    failedFraction: (age) => Math.exp(logFailed(age)),
    logFailedFraction: logFailed,
    hazard: (age) => Math.exp(logDensity(age) - logSurvival(age)),
    cumulativeHazard: (age) => -logSurvival(age),
    quantile: (fraction) => ageOf(Math.log1p(-checkFraction(fraction)), Math.log(fraction)),
    survivalQuantile: (fraction) => ageOf(Math.log(checkFraction(fraction)), Math.log1p(-fraction)),
    conditionalSurvival,
    mean: meanOfLaw(family, theta),
    meanResidualLife: (age) => {
      const mean = meanOfLaw(family, theta);
      if (age <= starts && Number.isFinite(starts)) return mean - age;
      if (mean === Number.POSITIVE_INFINITY) return mean;
      const half = atLogSurvival(logSurvival(age) - Math.LN2) - age;
      return meanResidualLife((more) => conditionalSurvival(age, more), half);
    },
  };
}

/** f at the age where the law begins: 0, finite or infinite, by the power of the age that f starts with. */
function logDensityAtStart(name: LawName, theta: Theta, logDensity: (age: number) => number): number {
  const [mu, logSigma, third] = theta;
  const startsAt = name === "three-parameter weibull" ? third : 0;
  // f ~ t^(power - 1) near the start.
  const power =
    name === "gamma"
      ? Math.exp(third)
      : name === "lognormal" || (name === "generalised gamma" && third <= 0)
        ? Number.POSITIVE_INFINITY
        : name === "generalised gamma"
          ? Math.exp(-logSigma) / third
          : Math.exp(-logSigma);
  if (power > 1) return Number.NEGATIVE_INFINITY;
  if (power < 1) return Number.POSITIVE_INFINITY;
  return logDensity(startsAt + Math.exp(mu) * 1e-12);
}

function checkFraction(fraction: number): number {
  if (!(fraction >= 0 && fraction <= 1)) {
    throw new AnalysisError("bad-setting", { setting: "fraction", value: String(fraction) });
  }
  return fraction;
}
