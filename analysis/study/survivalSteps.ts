import { lifeSample } from "../estimation/lifeSample.ts";
import type { LifeSample } from "../estimation/types.ts";
import { type EqualPrecisionBand, equalPrecisionBand } from "../nonparametric/equalPrecisionBand.ts";
import { productLimit } from "../nonparametric/productLimit.ts";
import { turnbull } from "../nonparametric/turnbull.ts";
import type { SettledLife } from "./settleAges.ts";
import type { ItemLifeResult, SurvivalStep } from "./types.ts";

export type Steps = ItemLifeResult["nonparametric"] & {
  /** The lives as the step estimate took them, for the probability plot. */
  readonly sample: LifeSample;
  /** Age from which the curve is conditional; 0 from the start. */
  readonly fromAge: number;
};

/**
 * The curve that assumes no law: product-limit with log-log bounds where every failure has its hour, else Turnbull.
 * An age known only as a range is taken at its low end for a survivor (certainly sound until then) and in the middle
 * for a failure.
 */
export function survivalSteps(settled: readonly SettledLife[], confidence: number): Steps {
  const sample = settled.length > 0 ? lifeSample({ unit: "h", lives: settled.map(withoutRanges) }) : emptySample;
  if (settled.every(({ lower, upper }) => upper === null || lower === upper)) {
    if (settled.length === 0)
      return { method: "product-limit", boundsMethod: null, steps: [], band: null, sample, fromAge: 0 };
    const whole = productLimit(sample, { confidence, bounds: "log-log" });
    // Failures among the first few late entries would drive the whole curve: then it speaks of those that reach a later age.
    const early = whole.earlySmallRiskSet;
    const curve = early ? productLimit(sample, { confidence, bounds: "log-log", fromAge: early.conditionFrom }) : whole;
    const steps = curve.steps.map(
      ({ time, survival, lower, upper, atRisk, failures }): SurvivalStep => ({
        from: time,
        to: time,
        survival,
        lower,
        upper,
        atRisk,
        failures,
      }),
    );
    const band = bandOf(equalPrecisionBand(curve, confidence));
    return { method: "product-limit", boundsMethod: "log-log", steps, band, sample, fromAge: curve.fromAge };
  }
  const curve = turnbull(sample);
  const steps = curve.intervals
    .filter((interval): interval is typeof interval & { high: number } => interval.high !== null)
    .map(
      ({ low, high, survivalAfter }): SurvivalStep => ({
        from: low,
        to: high,
        survival: survivalAfter,
        lower: null,
        upper: null,
        atRisk: null,
        failures: null,
      }),
    );
  return { method: "Turnbull", boundsMethod: null, steps, band: null, sample, fromAge: curve.fromAge };
}

const bandOf = (band: EqualPrecisionBand | null): Steps["band"] =>
  band && {
    confidence: band.confidence,
    method: band.method,
    fromAge: band.fromAge,
    toAge: band.toAge,
    lower: band.steps.map((step) => step?.lower ?? null),
    upper: band.steps.map((step) => step?.upper ?? null),
  };

function withoutRanges({ life, lower, lowerHigh, upper, upperHigh, entry }: SettledLife) {
  if (upper === null) return { id: life.id, lower, upper: null, entry };
  const middle = (upper + (upperHigh ?? upper)) / 2;
  return {
    id: life.id,
    lower: life.kind === "exact" ? middle : Math.min((lower + lowerHigh) / 2, middle),
    upper: middle,
    entry,
  };
}

const none = new Float64Array(0);
const emptySample: LifeSample = {
  unit: "h",
  n: 0,
  lower: none,
  lowerHigh: none,
  upper: none,
  upperHigh: none,
  entry: none,
  count: none,
  ids: [],
};

/** No step curve: for a mode whose looks happened because of the failure it leads to. */
export const noSteps: Steps = {
  method: "none",
  boundsMethod: null,
  steps: [],
  band: null,
  sample: emptySample,
  fromAge: 0,
};
