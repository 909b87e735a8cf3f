import type { Estimate } from "./types.ts";

/** An age this many times the longest one followed is said as "not reached", a bound as unbounded. Own choice, no source. */
const FAR_BEYOND = { value: 100, bound: 1_000 };

/**
 * Takes off ages so far beyond experience that a number would only look like knowledge: a bound of 10^27 h means that
 * the lives do not bound it. A lower bound is kept: it is what the lives do tell.
 */
export function withinReason(estimate: Estimate, longestAge: number): Estimate {
  if (estimate.unit !== "h" || estimate.value === null || !(longestAge > 0)) return estimate;
  const upper = estimate.upper !== null && estimate.upper > FAR_BEYOND.bound * longestAge ? null : estimate.upper;
  const lower = estimate.lower !== null && estimate.lower > FAR_BEYOND.bound * longestAge ? null : estimate.lower;
  if (estimate.value > FAR_BEYOND.value * longestAge)
    return { ...estimate, value: null, lower, upper: null, why: "not reached" };
  return { ...estimate, lower, upper };
}
