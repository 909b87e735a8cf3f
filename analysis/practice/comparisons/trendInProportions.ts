import { AnalysisError } from "../../errors.ts";
import { chiSquareUpperTail } from "../../numerics/index.ts";
import { checkCounts } from "./checkCounts.ts";

export interface TrendInProportions {
  /** Signed: above 0 where the proportion rises with the score. */
  readonly z: number;
  readonly chiSquare: number;
  readonly pValue: number;
  /** Do the proportions differ at all? On groups - 1 degrees of freedom. */
  readonly homogeneity: { readonly chiSquare: number; readonly degreesOfFreedom: number; readonly pValue: number };
}

/**
 * Does the share of failures rise or fall along ordered groups?
 *   z = sum s (x - n p) / sqrt(p (1 - p) sum n (s - mean s)^2),   p the pooled share
 *
 * @param scores  One a group, 1, 2, 3, ... by default.
 * Errors         "bad-setting" for fewer than two groups, lists of unlike length, failures above n, shares all 0 or all 1,
 *                or scores that are all the same.
 * Source         Cochran (1954), Biometrics 10, 417-451; Armitage (1955), Biometrics 11, 375-386.
 */
export function trendInProportions(
  failures: readonly number[],
  n: readonly number[],
  scores: readonly number[] = failures.map((_, i) => i + 1),
): TrendInProportions {
  checkCounts("failures", failures);
  checkCounts("lives", n);
  const groups = failures.length;
  const refuse = (setting: string, value: string | number, allowed: string): never => {
    throw new AnalysisError("bad-setting", { setting, value, allowed });
  };
  if (groups < 2 || n.length !== groups || scores.length !== groups)
    refuse("groups", groups, "two or more, lists alike");
  const over = failures.findIndex((x, i) => x > n[i]! || n[i] === 0);
  if (over >= 0) refuse(`failures of group ${over + 1}`, failures[over]!, `up to ${n[over]}, of at least one`);
  const total = n.reduce((sum, value) => sum + value, 0);
  const pooled = failures.reduce((sum, x) => sum + x, 0) / total;
  if (pooled === 0 || pooled === 1) refuse("share of failures", pooled, "between 0 and 1");
  const mean = n.reduce((sum, value, i) => sum + value * scores[i]!, 0) / total;
  const spread = n.reduce((sum, value, i) => sum + value * (scores[i]! - mean) ** 2, 0);
  if (!(spread > 0)) refuse("scores", scores.join(", "), "at least two different");
  const variance = pooled * (1 - pooled);
  const z =
    failures.reduce((sum, x, i) => sum + (scores[i]! - mean) * (x - n[i]! * pooled), 0) / Math.sqrt(variance * spread);
  const apart = failures.reduce((sum, x, i) => sum + (x - n[i]! * pooled) ** 2 / (n[i]! * variance), 0);
  return {
    z,
    chiSquare: z * z,
    pValue: chiSquareUpperTail(z * z, 1),
    homogeneity: { chiSquare: apart, degreesOfFreedom: groups - 1, pValue: chiSquareUpperTail(apart, groups - 1) },
  };
}
