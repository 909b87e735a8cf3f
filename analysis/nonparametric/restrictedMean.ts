import type { ProductLimitCurve } from "./productLimit.ts";

export interface RestrictedMean {
  /** The age at which the mean is cut off. */
  readonly until: number;
  readonly estimate: number;
  readonly standardError: number;
}

/**
 * Mean life cut off at an age: the area under the step curve from 0 (or `fromAge`) to `until`, counted from age 0.
 *   var = sum over failure times of A(t)^2 d / (n (n - d)),  A(t) the area from t to `until`
 *
 * @param until  Default: the last age followed. Never later: the curve is not extended.
 * Source        Klein & Moeschberger (2003), Survival Analysis, 2nd ed., equations 4.5.1-4.5.2.
 */
export function restrictedMean(curve: ProductLimitCurve, until: number = curve.lastTime): RestrictedMean {
  const end = Math.min(until, curve.lastTime);
  const steps = curve.steps.filter((step) => step.time < end);
  let area = 0;
  let variance = 0;
  let right = end;
  for (const step of [...steps].reverse()) {
    area += step.survival * (right - step.time);
    right = step.time;
    if (step.atRisk > step.failures) {
      variance += (area * area * step.failures) / (step.atRisk * (step.atRisk - step.failures));
    }
  }
  return { until: end, estimate: area + right, standardError: Math.sqrt(variance) };
}
