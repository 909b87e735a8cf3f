import { exactRate } from "../estimation/exactRate.ts";
import { type RateBand, rateRatio } from "../estimation/rateRatio.ts";
import { adjustPValues } from "../practice/comparisons/adjustPValues.ts";
import type { Estimate } from "./types.ts";

/** Failures and hours of one side of a change. */
export interface RateSide {
  readonly failures: number;
  readonly hours: number;
  readonly rate: Estimate;
}

/** Failure rates before and after a change, before it is known how many others are compared with them. */
export interface UnjudgedComparison {
  readonly before: RateSide;
  readonly after: RateSide;
  /** Rate after over rate before, within the bands given. */
  readonly ratio: Estimate;
  readonly crudeRatio: number | null;
  readonly pValue: number;
}

export interface RateComparison extends UnjudgedComparison {
  /** Allowing for the number of comparisons made. */
  readonly adjustedPValue: number;
  readonly verdict: RateVerdict;
}

export type RateVerdict = "fewer" | "more" | "no difference shown" | "too little to tell";

/** Fewer failures than this, on both sides together, tell nothing unless they are all on one side. Common practice, no source. */
const FEW = 5;

/** Rates before and after with exact bounds, and their ratio within bands of age, where it is not known already. */
export function compareRates(
  bands: readonly RateBand[],
  confidence: number,
  { ratio, lower, upper, pValue, failures } = rateRatio(bands, confidence),
): UnjudgedComparison {
  const sideSum = (side: "before" | "after"): RateSide => {
    const failures = bands.reduce((sum, band) => sum + band[side].failures, 0);
    const hours = bands.reduce((sum, band) => sum + band[side].hours, 0);
    return { failures, hours, rate: exactRate({ failures, hours, confidence }) };
  };
  const [before, after] = [sideSum("before"), sideSum("after")];
  const known = failures > 0;
  return {
    before,
    after,
    ratio: {
      value: ratio,
      lower: known ? lower : null,
      upper,
      confidence,
      method: known ? "exact conditional" : "none",
      unit: "none",
      ...(ratio === null ? { why: known ? ("not reached" as const) : ("no failures" as const) } : {}),
    },
    crudeRatio:
      before.failures > 0 && after.hours > 0 ? after.failures / after.hours / (before.failures / before.hours) : null,
    pValue,
  };
}

/**
 * What comparisons made together show: a difference where the bounds of the ratio exclude 1 and the p-value, allowing for
 * the number of comparisons (Holm), is below 1 - confidence.
 */
export function judgeComparisons<T extends UnjudgedComparison>(
  compared: readonly T[],
  confidence: number,
): (T & RateComparison)[] {
  const adjusted = adjustPValues(
    compared.map(({ pValue }) => pValue),
    "holm",
  );
  return compared.map((one, index) => {
    const adjustedPValue = adjusted[index] ?? 1;
    return { ...one, adjustedPValue, verdict: verdictOf(one, adjustedPValue, confidence) };
  });
}

function verdictOf(
  { ratio, before, after }: UnjudgedComparison,
  adjustedPValue: number,
  confidence: number,
): RateVerdict {
  const clear = adjustedPValue < 1 - confidence;
  if (clear && ratio.upper !== null && ratio.upper < 1) return "fewer";
  if (clear && ratio.lower !== null && ratio.lower > 1) return "more";
  const few = before.failures + after.failures < FEW || before.hours === 0 || after.hours === 0;
  return few ? "too little to tell" : "no difference shown";
}
