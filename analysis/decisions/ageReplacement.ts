import { weibull } from "../distributions/weibull.ts";
import { AnalysisError } from "../errors.ts";
import { findRoot, regularizedGammaP } from "../numerics/index.ts";

export interface AgeReplacementInput {
  /** Weibull shape and scale of the life, S(t) = exp(-(t / scale)^shape). */
  readonly shape: number;
  readonly scale: number;
  /** Cost of a planned renewal, > 0. */
  readonly plannedCost: number;
  /** Cost of a renewal after a failure, > 0. */
  readonly failureCost: number;
}

export interface AgeReplacement {
  /** Null where no finite age is best: shape <= 1, or a failure that costs no more than a planned renewal. */
  readonly optimalAge: number | null;
  /** Cost per unit of age at the optimum, or of running to failure. */
  readonly costRate: number;
  readonly runToFailureCostRate: number;
  /** Share of the cost of running to failure that the optimum saves; null without an optimum. */
  readonly savingFraction: number | null;
  readonly reliabilityAtOptimum: number | null;
  /** Mean time between renewals at the optimum. */
  readonly meanCycle: number | null;
}

/**
 * Best age at which to renew one item with one mode, renewed at that age or on failure, whichever comes first:
 *   C(t) = [cp S(t) + cf F(t)] / M(t),   M(t) = integral of S over (0, t)
 *   dC/dt = 0   where   h(t) M(t) - F(t) = cp / (cf - cp),   and there C(t) = (cf - cp) h(t)
 *
 * Errors    "bad-setting" for a cost, shape or scale that is not above 0.
 * Accuracy  relative 1e-12; M by the incomplete gamma function.
 * Source    Barlow & Hunter (1960), Operations Research 8, 90-100; Glasser (1967), Technometrics 9, 83-91.
 */
export function ageReplacement({ shape, scale, plannedCost, failureCost }: AgeReplacementInput): AgeReplacement {
  for (const [setting, value] of [
    ["planned cost", plannedCost],
    ["failure cost", failureCost],
  ] as const) {
    if (!(value > 0 && Number.isFinite(value)))
      throw new AnalysisError("bad-setting", { setting, value: String(value) });
  }
  const law = weibull({ shape, scale });
  const runToFailureCostRate = failureCost / law.mean;
  if (shape <= 1 || failureCost <= plannedCost) {
    return {
      optimalAge: null,
      costRate: runToFailureCostRate,
      runToFailureCostRate,
      savingFraction: null,
      reliabilityAtOptimum: null,
      meanCycle: null,
    };
  }
  const meanCycle = (age: number): number => law.mean * regularizedGammaP(1 / shape, law.cumulativeHazard(age));
  const excess = (logAge: number): number => {
    const age = Math.exp(logAge);
    return law.hazard(age) * meanCycle(age) - law.failedFraction(age) - plannedCost / (failureCost - plannedCost);
  };
  // The left side grows from 0 without end where shape > 1.
  let [low, high] = [Math.log(scale) - 1, Math.log(scale) + 1];
  while (excess(low) > 0) low -= 2;
  while (excess(high) < 0) high += 1;
  const optimalAge = Math.exp(findRoot(excess, low, high));
  const costRate = (failureCost - plannedCost) * law.hazard(optimalAge);
  return {
    optimalAge,
    costRate,
    runToFailureCostRate,
    savingFraction: 1 - costRate / runToFailureCostRate,
    reliabilityAtOptimum: law.survival(optimalAge),
    meanCycle: meanCycle(optimalAge),
  };
}
