import { AnalysisError } from "../errors.ts";
import type { ProductLimitCurve } from "./productLimit.ts";

export interface SurvivalQuantile {
  readonly failedFraction: number;
  /** Age by which that fraction has failed; null where the curve does not come down that far. */
  readonly estimate: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}

/**
 * Age by which a fraction has failed, read off the step curve, with the ages at which its bound curves cross.
 *
 * @param failedFraction  0 < failedFraction < 1; 0.5 is the median, 0.1 "one in ten".
 * @returns  null for what is not reached: an upper null is unbounded.
 *
 * Conventions  Smallest failure time with S <= 1 - p. Where S equals 1 - p over a stretch the middle of the stretch is
 *              taken, and `lastTime` ends the last stretch.
 * Errors       "bad-setting" for a fraction outside (0, 1).
 * Source       Brookmeyer & Crowley (1982), Biometrics 38, 29-41.
 */
export function survivalQuantile(curve: ProductLimitCurve, failedFraction: number): SurvivalQuantile {
  if (!(failedFraction > 0 && failedFraction < 1)) {
    throw new AnalysisError("bad-setting", {
      setting: "failed fraction",
      value: failedFraction,
      allowed: "between 0 and 1",
    });
  }
  const level = 1 - failedFraction;
  const crossing = (pick: "survival" | "lower" | "upper"): number | null =>
    crossingAge(
      curve.steps.map((step) => ({ time: step.time, value: step[pick] })),
      level,
      curve.lastTime,
    );
  return { failedFraction, estimate: crossing("survival"), lower: crossing("lower"), upper: crossing("upper") };
}

/** Rounding in the running product must not turn "equals" into "just above". */
const tolerance = 1.5e-8;

function crossingAge(
  points: readonly { readonly time: number; readonly value: number | null }[],
  level: number,
  lastTime: number,
): number | null {
  const at = points.findIndex(({ value }) => value !== null && value <= level + tolerance);
  const point = points[at];
  if (point === undefined || point.value === null) return null;
  if (point.value < level - tolerance) return point.time;
  const next = points.slice(at + 1).find(({ value }) => value !== null && value < level - tolerance);
  return (point.time + (next?.time ?? lastTime)) / 2;
}
