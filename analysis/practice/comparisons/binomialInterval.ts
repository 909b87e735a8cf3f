import { AnalysisError } from "../../errors.ts";
import { checkConfidence } from "../../estimation/weibullQuantity.ts";
import { inverseBeta, normalQuantile } from "../../numerics/index.ts";
import { checkCounts } from "./checkCounts.ts";

export interface BinomialInterval {
  readonly value: number;
  readonly lower: number;
  readonly upper: number;
  readonly confidence: number;
  readonly method: "exact" | "score";
}

/**
 * A share x of n with its two-sided interval.
 *   exact  the tails at either bound are (1 - confidence) / 2 or less: never covers too little
 *   score  (p + z^2/2n -+ z sqrt(p (1 - p)/n + z^2/4n^2)) / (1 + z^2/n)
 * The one-sided bound at level c is that end of the two-sided exact interval at 2c - 1.
 *
 * Errors   "bad-setting" for x above n, n of 0, or a confidence out of (0, 1).
 * Source   Clopper & Pearson (1934), Biometrika 26, 404-413; Wilson (1927), J. Amer. Statist. Assoc. 22, 209-212.
 */
export function binomialInterval(
  x: number,
  n: number,
  { confidence = 0.9, method = "exact" }: { readonly confidence?: number; readonly method?: "exact" | "score" } = {},
): BinomialInterval {
  checkConfidence(confidence);
  checkCounts("count", [x, n]);
  if (n === 0 || x > n)
    throw new AnalysisError("bad-setting", { setting: "count", value: x, allowed: `0 to ${n}, n above 0` });
  const tail = 0.5 * (1 - confidence);
  const common = { value: x / n, confidence, method };
  if (method === "exact") {
    return {
      ...common,
      lower: x === 0 ? 0 : inverseBeta(x, n - x + 1, tail),
      // By the complement, so that a bound near 1 keeps its digits.
      upper: x === n ? 1 : 1 - inverseBeta(n - x, x + 1, tail),
    };
  }
  const z = -normalQuantile(tail);
  const share = x / n;
  const center = (share + (z * z) / (2 * n)) / (1 + (z * z) / n);
  const width = (z * Math.sqrt((share * (1 - share)) / n + (z * z) / (4 * n * n))) / (1 + (z * z) / n);
  return { ...common, lower: x === 0 ? 0 : center - width, upper: x === n ? 1 : center + width };
}
