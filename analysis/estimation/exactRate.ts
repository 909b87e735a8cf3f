import { AnalysisError } from "../errors.ts";
import { chiSquareQuantile } from "../numerics/index.ts";

/** Failures per 1,000 hours with bounds. No hours: no rate. */
export interface ExactRate {
  readonly value: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly confidence: number;
  readonly method: "exact Poisson" | "none";
  readonly unit: "per 1,000 h";
  readonly why?: "no failures" | "no hours";
}

export interface ExactRateInput {
  readonly failures: number;
  readonly hours: number;
  readonly confidence?: number;
  /** What ended the observation: the calendar (default), or the last failure itself, as in a test run to failure. */
  readonly endedBy?: "time" | "failure";
}

/**
 * Failure rate with exact Poisson bounds:
 *   lower = chi-square quantile((1 - C)/2; 2r) / 2T,  upper = chi-square quantile((1 + C)/2; 2r + 2) / 2T
 * (2r for both where the last failure ended the observation).
 *
 * @param input  failures >= 0, whole; hours >= 0; 0 < confidence < 1, two-sided.
 * @returns      Per 1,000 h. No failures: rate 0 and lower bound 0, upper bound of the same two-sided level (so one-sided
 *               it holds at (1 + C)/2), `why` "no failures". No hours: null, `why` "no hours".
 * Errors        "bad-setting" for a negative or fractional count, negative hours, or a level outside (0, 1).
 * Source        Garwood (1936), Biometrika 28, 437-442; NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.1.
 */
export function exactRate({ failures, hours, confidence = 0.9, endedBy = "time" }: ExactRateInput): ExactRate {
  check("failures", failures, Number.isInteger(failures) && failures >= 0, "a whole number, 0 or more");
  check("hours", hours, Number.isFinite(hours) && hours >= 0, "a number, 0 or more");
  check("confidence", confidence, confidence > 0 && confidence < 1, "a number above 0 and below 1");
  const common = { confidence, unit: "per 1,000 h" } as const;
  if (hours === 0) return { ...common, value: null, lower: null, upper: null, method: "none", why: "no hours" };

  const bound = (probability: number, degrees: number): number =>
    degrees === 0 ? 0 : (1000 * chiSquareQuantile(probability, degrees)) / (2 * hours);
  const lower = bound((1 - confidence) / 2, 2 * failures);
  const upper = bound((1 + confidence) / 2, 2 * failures + (endedBy === "failure" && failures > 0 ? 0 : 2));
  const value = (1000 * failures) / hours;
  const method = "exact Poisson";
  return failures === 0
    ? { ...common, value, lower, upper, method, why: "no failures" }
    : { ...common, value, lower, upper, method };
}

function check(setting: string, value: number, holds: boolean, allowed: string): void {
  if (!holds) throw new AnalysisError("bad-setting", { setting, value: String(value), allowed });
}
