import { AnalysisError } from "../../errors.ts";
import { chiSquareQuantile, chiSquareUpperTail, findRoot } from "../../numerics/index.ts";
import { fitWeibull, type WeibullFound } from "../fitWeibull.ts";
import type { LifeSample, Maximum } from "../types.ts";
import { checkConfidence, checkQuantity, weibullQuantity } from "../weibullQuantity.ts";
import { lifeProfile } from "./lifeProfile.ts";
import { mergeSamples } from "./mergeSamples.ts";
import { scaledSample } from "./scaledSample.ts";

export type RatioOfLives =
  | {
      readonly maximum: "found";
      /** Life of the first over life of the second. */
      readonly value: number;
      /** Null: open. */
      readonly lower: number | null;
      readonly upper: number | null;
      readonly confidence: number;
      /** Of the ratio 1: twice the drop of the log likelihood, and its p from chi-square with one degree of freedom. */
      readonly equalLives: { readonly statistic: number; readonly pValue: number };
      readonly shapes: "own" | "common";
      readonly method: "likelihood ratio";
    }
  | { readonly maximum: Exclude<Maximum, "found">; readonly which: "first" | "second" | "both" };

export interface RatioOptions {
  /** 0.1 by default: B10. */
  readonly failedFraction?: number;
  readonly confidence: number;
  /** "own" by default. With a common shape the ratio is the same at every fraction. */
  readonly shapes?: "own" | "common";
}

/**
 * Ratio of the ages by which a fraction has failed in two groups, with likelihood-ratio bounds: all other parameters are
 * re-maximised at each ratio.
 *
 * @returns   "found", or why a group has no law: then there is no ratio.
 * Errors     "bad-setting" for fraction, confidence, or unlike units.
 * Accuracy   Bounds to 1e-9; open where not reached within a factor of e^40.
 * Source     Lawless (2003), section 5.4.2 (comparison of quantiles).
 */
export function ratioOfLives(first: LifeSample, second: LifeSample, options: RatioOptions): RatioOfLives {
  const { failedFraction = 0.1, confidence, shapes = "own" } = options;
  checkConfidence(confidence);
  const quantity = { kind: "quantile", failedFraction } as const;
  checkQuantity(quantity);
  if (first.unit !== second.unit) {
    throw new AnalysisError("bad-setting", { setting: "unit", value: second.unit, expected: first.unit });
  }
  const a = fitWeibull(first);
  const b = fitWeibull(second);
  if (a.maximum !== "found") return { maximum: a.maximum, which: b.maximum === "found" ? "first" : "both" };
  if (b.maximum !== "found") return { maximum: b.maximum, which: "second" };
  const logLives = [a, b].map((fit) => Math.log(weibullQuantity(quantity, fit))) as [number, number];
  const start = logLives[0] - logLives[1];
  const profile =
    shapes === "own" ? ownShapes(first, second, failedFraction, a, b, logLives[1]) : commonShape(first, second);
  const best = shapes === "own" ? start : highest(profile, start);
  const top = profile(best);
  const cut = 0.5 * chiSquareQuantile(confidence, 1);
  const end = (side: 1 | -1): number | null => {
    const over = (distance: number): number => top - profile(best + side * distance) - cut;
    let inside = 0;
    let atLow = -cut;
    for (let outside = 0.05; outside <= 40; outside *= 1.6) {
      const atHigh = over(outside);
      if (atHigh >= 0) {
        return Math.exp(best + side * findRoot(over, inside, outside, { tolerance: 1e-11, atLow, atHigh }));
      }
      inside = outside;
      atLow = atHigh;
    }
    return null;
  };
  const statistic = Math.max(0, 2 * (top - profile(0)));
  return {
    maximum: "found",
    value: Math.exp(best),
    lower: end(-1),
    upper: end(1),
    confidence,
    equalLives: { statistic, pValue: chiSquareUpperTail(statistic, 1) },
    shapes,
    method: "likelihood ratio",
  };
}

/** max over u of p_first(u + ratio) + p_second(u). */
function ownShapes(
  first: LifeSample,
  second: LifeSample,
  failedFraction: number,
  a: WeibullFound,
  b: WeibullFound,
  start: number,
): (logRatio: number) => number {
  const ofFirst = lifeProfile(first, failedFraction, a.shape);
  const ofSecond = lifeProfile(second, failedFraction, b.shape);
  let u = start;
  return (logRatio) => {
    let one = ofFirst(u + logRatio);
    let two = ofSecond(u);
    for (let iteration = 0; iteration < 100; iteration++) {
      const slope = one.slope + two.slope;
      const bend = one.bend + two.bend;
      const value = one.value + two.value;
      let step = bend < 0 ? Math.max(-1, Math.min(1, -slope / bend)) : Math.sign(slope) * 0.5;
      const decrement = Math.abs(slope * step);
      for (let halving = 0; halving < 40; halving++) {
        one = ofFirst(u + step + logRatio);
        two = ofSecond(u + step);
        if (one.value + two.value >= value - 1e-12 * Math.abs(value)) break;
        step *= 0.5;
      }
      u += step;
      if (decrement < 1e-13) break;
    }
    return one.value + two.value;
  };
}

/** With one shape, dividing the first group's ages by the ratio makes both groups one law. */
function commonShape(first: LifeSample, second: LifeSample): (logRatio: number) => number {
  return (logRatio) => {
    const { sample, logJacobian } = scaledSample(first, Math.exp(-logRatio));
    const fit = fitWeibull(mergeSamples([sample, second]));
    return fit.maximum === "found" ? fit.logLikelihood + logJacobian : Number.NEGATIVE_INFINITY;
  };
}

/** Golden section, 1e-8 wide: the ratio where the profile is highest. */
function highest(profile: (u: number) => number, start: number): number {
  const golden = (Math.sqrt(5) - 1) / 2;
  let low = start - 1.5;
  let high = start + 1.5;
  let c = high - golden * (high - low);
  let d = low + golden * (high - low);
  let [atC, atD] = [profile(c), profile(d)];
  while (high - low > 1e-8) {
    if (atC > atD) {
      high = d;
      d = c;
      atD = atC;
      c = high - golden * (high - low);
      atC = profile(c);
    } else {
      low = c;
      c = d;
      atC = atD;
      d = low + golden * (high - low);
      atD = profile(d);
    }
  }
  return 0.5 * (low + high);
}
