import { AnalysisError } from "../errors.ts";
import type { LifeSample } from "../estimation/types.ts";

export type CensoringKind = "exact" | "right" | "left" | "interval";

/** What is known about life `i`: its kind of censoring. A life that failed between its entry and one age is `left`. */
export function censoringOf(sample: LifeSample, i: number): CensoringKind {
  const lower = sample.lower[i] ?? Number.NaN;
  const upper = sample.upper[i] ?? Number.NaN;
  if (lower === upper) return "exact";
  if (upper === Number.POSITIVE_INFINITY) return "right";
  return lower <= Math.max(sample.entry[i] ?? 0, 0) ? "left" : "interval";
}

/** Whether an end of life `i` is known only to lie in a range. */
export function isRanged(sample: LifeSample, i: number): boolean {
  return sample.lowerHigh[i] !== sample.lower[i] || sample.upperHigh[i] !== sample.upper[i];
}

/**
 * Refuses what a step estimate cannot use.
 *
 * Errors  "no-lives" for an empty sample; "unsupported-censoring" with the life and its kind where the kind is not in
 *         `allowed` or an end is a range; "bad-life" where an age is not a number, the ends are in the wrong order, or a
 *         life ends before it is first seen.
 */
export function requireCensoring(sample: LifeSample, method: string, allowed: readonly CensoringKind[]): void {
  if (sample.n === 0) throw new AnalysisError("no-lives", { method });
  for (let i = 0; i < sample.n; i += 1) {
    checkAges(sample, i);
    const life = sample.ids?.[i] ?? String(i + 1);
    const kind = censoringOf(sample, i);
    if (isRanged(sample, i)) throw new AnalysisError("unsupported-censoring", { method, life, kind: "ranged" });
    if (!allowed.includes(kind)) throw new AnalysisError("unsupported-censoring", { method, life, kind });
  }
}

function checkAges(sample: LifeSample, i: number): void {
  const lower = sample.lower[i] ?? Number.NaN;
  const upper = sample.upper[i] ?? Number.NaN;
  const entry = sample.entry[i] ?? Number.NaN;
  const count = sample.count[i] ?? Number.NaN;
  if (!(lower >= 0)) refuse(sample, i, "lower", lower, lower < 0 ? "negative" : "not finite");
  if (!(upper >= lower)) refuse(sample, i, "upper", upper, "lower above upper");
  if (!(entry >= 0)) refuse(sample, i, "entry", entry, entry < 0 ? "negative" : "not finite");
  if (!(count > 0)) refuse(sample, i, "count", count, "count not above zero");
  const enteredTooLate = entry > lower || (entry > 0 && entry === upper);
  if (enteredTooLate) refuse(sample, i, "entry", entry, "entry beyond exit");
}

function refuse(sample: LifeSample, i: number, column: string, value: number, why: string): never {
  throw new AnalysisError("bad-life", { row: i + 1, id: sample.ids?.[i] ?? null, column, value: String(value), why });
}

/**
 * The same lives with each ranged end set to the middle of its range: the step estimates take no ranges.
 *
 * @returns  The sample, and how many lives were settled so; say it beside the curve where it is not 0.
 */
export function atMiddleOfRanges(sample: LifeSample): { readonly sample: LifeSample; readonly settled: number } {
  const lower = Float64Array.from(sample.lower);
  const upper = Float64Array.from(sample.upper);
  let settled = 0;
  for (let i = 0; i < sample.n; i += 1) {
    if (!isRanged(sample, i)) continue;
    settled += 1;
    const exact = censoringOf(sample, i) === "exact";
    lower[i] = ((sample.lower[i] ?? 0) + (sample.lowerHigh[i] ?? 0)) / 2;
    upper[i] = exact ? (lower[i] ?? 0) : middle(sample.upper[i] ?? 0, sample.upperHigh[i] ?? 0);
    if ((upper[i] ?? 0) < (lower[i] ?? 0)) upper[i] = lower[i] ?? 0;
  }
  return { sample: { ...sample, lower, upper, lowerHigh: lower, upperHigh: upper }, settled };
}

function middle(low: number, high: number): number {
  return low === Number.POSITIVE_INFINITY ? low : (low + high) / 2;
}
