import { weibull } from "../distributions/weibull.ts";
import { AnalysisError } from "../errors.ts";

export interface MinimalRepairInput {
  /** Weibull shape and scale of the first failure. */
  readonly shape: number;
  readonly scale: number;
  readonly replaceCost: number;
  readonly repairCost: number;
}

/** Null where the failure rate does not rise: no period is better than none. */
export interface MinimalRepair {
  readonly optimalPeriod: number;
  readonly costRate: number;
  /** Failures repaired in one period. */
  readonly expectedRepairs: number;
  readonly costRateAt: (period: number) => number;
}

/**
 * Best period at which to renew an item that is only patched up when it fails, so that it stays as old as it was:
 *   C(t) = [cr + cm (t / scale)^shape] / t,   t* = scale [cr / ((shape - 1) cm)]^(1 / shape)
 *
 * Errors  "bad-setting" for a cost, shape or scale that is not above 0.
 * Source  Barlow & Hunter (1960), Operations Research 8, 90-100, policy II.
 */
export function minimalRepair({ shape, scale, replaceCost, repairCost }: MinimalRepairInput): MinimalRepair | null {
  for (const [setting, value] of [
    ["cost of renewal", replaceCost],
    ["cost of repair", repairCost],
  ] as const) {
    if (!(value > 0 && Number.isFinite(value)))
      throw new AnalysisError("bad-setting", { setting, value: String(value) });
  }
  const law = weibull({ shape, scale });
  if (shape <= 1) return null;
  const costRateAt = (period: number): number => (replaceCost + repairCost * law.cumulativeHazard(period)) / period;
  const expectedRepairs = replaceCost / ((shape - 1) * repairCost);
  const optimalPeriod = scale * expectedRepairs ** (1 / shape);
  return { optimalPeriod, costRate: costRateAt(optimalPeriod), expectedRepairs, costRateAt };
}
