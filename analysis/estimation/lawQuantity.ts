import {
  type LawFamily,
  type LawParameter,
  lawFamilies,
  parameterValue,
  type Theta,
} from "../distributions/lawFamilies.ts";
import { lawPoint, TEN } from "../distributions/lawPoint.ts";
import { meanAtZero, meanOfLaw } from "../distributions/meanOfLaw.ts";
import { standardQuantile } from "../distributions/standard/standardQuantile.ts";
import { AnalysisError } from "../errors.ts";
import type { LawFound } from "./fitLaw.ts";

/** What may be asked of a fitted law. */
export type LawQuantity =
  /** One of the law's own parameters, by the name of `lawFamilies.ts`. */
  | { readonly kind: "parameter"; readonly name: string }
  /** Age by which this fraction has failed, 0 < failedFraction < 1; 0.1 is B10. */
  | { readonly kind: "quantile"; readonly failedFraction: number }
  /** P(T > age), age > 0. */
  | { readonly kind: "survival"; readonly age: number }
  | { readonly kind: "mean" };

/** Refuses an unknown parameter, a fraction outside (0, 1) and an age that is not above 0 with "bad-setting". */
export function checkLawQuantity(family: LawFamily, quantity: LawQuantity): void {
  if (quantity.kind === "parameter") parameterOf(family, quantity.name);
  if (quantity.kind === "quantile" && !(quantity.failedFraction > 0 && quantity.failedFraction < 1)) {
    throw new AnalysisError("bad-setting", { setting: "failedFraction", value: String(quantity.failedFraction) });
  }
  if (quantity.kind === "survival" && !(quantity.age > 0 && Number.isFinite(quantity.age))) {
    throw new AnalysisError("bad-setting", { setting: "age", value: String(quantity.age) });
  }
}

export function parameterOf(family: LawFamily, name: string): LawParameter {
  const found = family.parameters.find((one) => one.name === name);
  if (!found) throw new AnalysisError("bad-setting", { setting: "parameter", value: name });
  return found;
}

/** The quantity at the estimate, in its own unit; a mean is Infinity where the fitted law has none. */
export function lawQuantity(fit: LawFound, quantity: LawQuantity): number {
  const family = lawFamilies[fit.law];
  checkLawQuantity(family, quantity);
  return quantityAt(family, fit.theta, quantity);
}

export function quantityAt(family: LawFamily, theta: Theta, quantity: LawQuantity): number {
  switch (quantity.kind) {
    case "parameter":
      return parameterValue(parameterOf(family, quantity.name), theta);
    case "quantile": {
      const w = quantileOf(family, quantity.failedFraction, theta[2]).w;
      return lawPoint(family).ageAt(w, theta);
    }
    case "survival": {
      const out = new Float64Array(TEN);
      lawPoint(family).logSurvival(quantity.age, theta, out);
      return Math.exp(out[0]!);
    }
    case "mean":
      return meanOfLaw(family, theta);
  }
}

/** A standardised age with its derivatives by q at a fixed failed fraction. */
export interface QuantileByQ {
  readonly w: number;
  readonly byQ: number;
  readonly byQQ: number;
  /** d log S / dw there. */
  readonly logSurvivalSlope: number;
}

export function quantileOf(family: LawFamily, failedFraction: number, q: number): QuantileByQ {
  return quantileByQ(family, Math.log1p(-failedFraction), Math.log(failedFraction), q);
}

const six = new Float64Array(6);

/** From the derivatives of the tail that is held: w_q = -G_q / G_w and once more. */
export function quantileByQ(family: LawFamily, logSurvival: number, logFailed: number, q: number): QuantileByQ {
  const { standard } = family;
  const w = standardQuantile(standard, logSurvival, logFailed, q);
  standard.logSurvival(w, q, six);
  const logSurvivalSlope = six[1]!;
  if (family.ageScale === "above threshold") return { w, byQ: 0, byQQ: 0, logSurvivalSlope };
  if (logFailed < logSurvival) standard.logFailed(w, q, six);
  const [, dw = 0, dq = 0, ww = 0, wq = 0, qq = 0] = six;
  const byQ = -dq / dw;
  return { w, byQ, byQQ: -(qq + 2 * wq * byQ + ww * byQ * byQ) / dw, logSurvivalSlope };
}

/** The mean at mu = 0 with its derivatives by log sigma and q, by differences of fourth order: it is smooth, and they only steer. */
export function meanWithDerivatives(
  family: LawFamily,
  logSigma: number,
  q: number,
): Readonly<Record<"value" | "s" | "q" | "ss" | "sq" | "qq", number>> {
  const h = 2e-3;
  const at = (i: number, j: number): number =>
    meanAtZero(family, Math.exp(logSigma + i * h), family.ageScale === "above threshold" ? 0 : q + j * h);
  const value = at(0, 0);
  const first = (f: (i: number) => number): number => (f(-2) - 8 * f(-1) + 8 * f(1) - f(2)) / (12 * h);
  const second = (f: (i: number) => number): number =>
    (-f(-2) + 16 * f(-1) - 30 * value + 16 * f(1) - f(2)) / (12 * h * h);
  return {
    value,
    s: first((i) => at(i, 0)),
    q: first((j) => at(0, j)),
    ss: second((i) => at(i, 0)),
    sq: (at(1, 1) - at(1, -1) - at(-1, 1) + at(-1, -1)) / (4 * h * h),
    qq: second((j) => at(0, j)),
  };
}
