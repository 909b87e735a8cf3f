import { exactRate } from "../estimation/exactRate.ts";
import { powerLaw } from "../recurrence/powerLaw.ts";
import { trendTests } from "../recurrence/trendTests.ts";
import type { FollowedSystem } from "../recurrence/types.ts";
import type { Estimate } from "../study/types.ts";
import type { MeanTimeGate } from "./types.ts";

/** Fewest failures, and the range of shapes in which a rate is near enough constant to be said as a mean time. */
export const gateLimits = { failures: 10, shape: { lower: 0.6, upper: 1.6 }, trend: 0.05, confidence: 0.9 } as const;

/**
 * Whether "mean time between failures" may be said of one mode: at least 10 failures, the 90 % interval of the power-law
 * shape inside 0.6 to 1.6, and neither trend test below 5 %.
 *
 * Source  IEC 60605-6 and MIL-HDBK-189C ask for tests of a constant rate before a mean time is quoted; the limits
 *         themselves are common practice, no source.
 */
export function meanTimeGate(
  systems: readonly FollowedSystem[],
  { failures, hours, confidence }: { readonly failures: number; readonly hours: number; readonly confidence: number },
): Omit<MeanTimeGate, "survivalAtMeanTime"> {
  const bounds = powerLaw(systems, { confidence: gateLimits.confidence })?.conditional ?? null;
  const trend = trendTests(systems);
  const shape = bounds && { value: bounds.unbiasedShape ?? bounds.shape, ...bounds.bounds };
  const [laplace, handbook] = [trend.laplace?.pValue ?? null, trend.handbook?.pValue ?? null];
  const nearOne = shape !== null && shape.lower >= gateLimits.shape.lower && shape.upper <= gateLimits.shape.upper;
  const why: MeanTimeGate["why"] = [
    ...(failures < gateLimits.failures ? (["fewer than 10 failures"] as const) : []),
    ...(nearOne ? [] : (["shape not near 1"] as const)),
    ...((laplace ?? 1) < gateLimits.trend || (handbook ?? 1) < gateLimits.trend ? (["trend"] as const) : []),
  ];
  return {
    mayBeSaid: why.length === 0,
    why,
    hours,
    failures,
    meanTime: meanTimeOf(failures, hours, confidence),
    shape,
    laplace,
    handbook,
  };
}

/** Hours a failure, from the exact bounds of the rate. */
export function meanTimeOf(failures: number, hours: number, confidence: number): Estimate | null {
  const { value, lower, upper } = exactRate({ failures, hours, confidence });
  if (failures === 0 || value === null || lower === null || upper === null) return null;
  return {
    value: 1000 / value,
    lower: 1000 / upper,
    upper: 1000 / lower,
    confidence,
    method: "exact Poisson",
    unit: "h",
  };
}
