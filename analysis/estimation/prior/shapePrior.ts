import { AnalysisError } from "../../errors.ts";
import { normalQuantile } from "../../numerics/index.ts";

/** A lognormal prior on the Weibull shape: log shape is normal. */
export interface ShapePrior {
  readonly low: number;
  readonly high: number;
  /** Probability that the shape lies between `low` and `high`, half of the rest on either side. */
  readonly sure: number;
  readonly mean: number;
  readonly spread: number;
}

/**
 * "The shape lies between a and b, 90 % sure" as a prior: mean and standard deviation of log shape such that half of the rest lies below
 * a and half above b.
 *
 * Errors  "bad-setting" unless 0 < low < high, finite, and 0 < sure < 1.
 */
export function shapePrior(low: number, high: number, sure = 0.9): ShapePrior {
  if (!(low > 0 && Number.isFinite(low)))
    throw new AnalysisError("bad-setting", { setting: "low", value: String(low) });
  if (!(high > low && Number.isFinite(high))) {
    throw new AnalysisError("bad-setting", { setting: "high", value: String(high), low });
  }
  if (!(sure > 0 && sure < 1)) throw new AnalysisError("bad-setting", { setting: "sure", value: String(sure) });
  return {
    low,
    high,
    sure,
    mean: 0.5 * (Math.log(low) + Math.log(high)),
    spread: Math.log(high / low) / (2 * -normalQuantile(0.5 * (1 - sure))),
  };
}

/** Density of the shape at `shape`, per unit of shape. */
export function priorDensity({ mean, spread }: ShapePrior, shape: number): number {
  const z = (Math.log(shape) - mean) / spread;
  return Math.exp(-0.5 * z * z) / (spread * shape * Math.sqrt(2 * Math.PI));
}
