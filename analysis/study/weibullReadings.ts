import { weibull } from "../distributions/weibull.ts";
import { bootstrapBounds } from "../estimation/bootstrap/bootstrapBounds.ts";
import type { BootstrapReplicates } from "../estimation/bootstrap/bootstrapWeibull.ts";
import type { WeibullFound } from "../estimation/fitWeibull.ts";
import { weibullBounds } from "../estimation/profileBounds.ts";
import { survivalBand } from "../estimation/survivalBand.ts";
import type { LifeSample } from "../estimation/types.ts";
import { weibullWaldBounds } from "../estimation/waldBounds.ts";
import type { WeibullQuantity } from "../estimation/weibullQuantity.ts";
import { gridOfAges } from "./gridOfAges.ts";
import type { CurveOnGrid, Estimate, ItemLifeResult } from "./types.ts";

/** One way to bound a quantity of a fitted Weibull law, and its survival on a grid. */
export interface BoundsMethod {
  readonly method: Estimate["method"];
  of(quantity: WeibullQuantity): { readonly lower: number | null; readonly upper: number | null };
  band(ages: readonly number[]): CurveOnGrid;
}

export const byLikelihoodRatio = (fit: WeibullFound, sample: LifeSample, confidence: number): BoundsMethod => ({
  method: "likelihood ratio",
  of: (quantity) => weibullBounds(fit, sample, quantity, confidence),
  band: (ages) => {
    const { age, value, lower, upper } = survivalBand(fit, sample, ages, confidence);
    return { age, value, lower, upper };
  },
});

export const byWald = (fit: WeibullFound, confidence: number): BoundsMethod => {
  const of: BoundsMethod["of"] = (quantity) => weibullWaldBounds(fit, quantity, confidence);
  return { method: "Wald", of, band: pointwise(fit, of) };
};

export const bySerial = (fit: WeibullFound, replicates: BootstrapReplicates, confidence: number): BoundsMethod => {
  const of: BoundsMethod["of"] = (quantity) => bootstrapBounds(replicates, quantity, confidence, "bias-corrected");
  return { method: "bootstrap by serial", of, band: pointwise(fit, of) };
};

function pointwise(fit: WeibullFound, of: BoundsMethod["of"]): BoundsMethod["band"] {
  const law = weibull({ shape: fit.shape, scale: fit.scale });
  return (ages) => {
    const ends = ages.map((age) => (age === 0 ? { lower: 1, upper: 1 } : of({ kind: "survival", age })));
    return {
      age: [...ages],
      value: ages.map((age) => law.survival(age)),
      lower: ends.map(({ lower }) => lower ?? 0),
      upper: ends.map(({ upper }) => upper ?? 1),
    };
  };
}

/** B10 with its bounds. */
export function readB10(fit: WeibullFound, bounds: BoundsMethod, confidence: number): Estimate {
  const { lower, upper } = bounds.of({ kind: "quantile", failedFraction: 0.1 });
  const value = weibull({ shape: fit.shape, scale: fit.scale }).quantile(0.1);
  return { value, lower, upper, confidence, method: bounds.method, unit: "h" };
}

/** Everything that is read from a fitted Weibull law, bounded by one method. */
export function weibullReadings(
  fit: WeibullFound,
  bounds: BoundsMethod,
  statedAge: number,
  longestAge: number,
  confidence: number,
): Pick<ItemLifeResult, "fit" | "readings" | "survival"> {
  const { shape, scale, logLikelihood, iterations, largestScore } = fit;
  const law = weibull({ shape, scale });
  const read = (value: number, quantity: WeibullQuantity, unit: Estimate["unit"]): Estimate => {
    const { lower, upper } = bounds.of(quantity);
    return { value, lower, upper, confidence, method: bounds.method, unit };
  };
  return {
    fit: {
      distribution: "weibull",
      shape: read(shape, { kind: "shape" }, "none"),
      scale: read(scale, { kind: "scale" }, "h"),
      logLikelihood,
      iterations,
      largestScore,
    },
    readings: {
      b10: readB10(fit, bounds, confidence),
      median: read(law.quantile(0.5), { kind: "quantile", failedFraction: 0.5 }, "h"),
      mean: read(law.mean, { kind: "mean" }, "h"),
      statedAge,
      reliability: read(law.survival(statedAge), { kind: "survival", age: statedAge }, "fraction"),
    },
    survival: bounds.band(gridOfAges(law.quantile(0.5), longestAge)),
  };
}
