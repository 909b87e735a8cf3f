import { AnalysisError } from "../errors.ts";
import { inverseBeta } from "../numerics/index.ts";
import type { Estimate } from "../study/types.ts";

/**
 * A share with exact bounds: beta quantiles, lower (1 - C)/2 of (x, n - x + 1), upper (1 + C)/2 of (x + 1, n - x).
 *
 * @param n   Above 0; may be an effective number, then x = share * n.
 * Source     Clopper & Pearson (1934), Biometrika 26, 404-413.
 */
export function exactShare(x: number, n: number, confidence: number): Estimate {
  if (!(x >= 0 && x <= n)) throw new AnalysisError("bad-setting", { setting: "share", value: `${x} of ${n}` });
  if (n === 0)
    return { value: null, lower: null, upper: null, confidence, method: "none", unit: "fraction", why: "no hours" };
  const tail = (1 - confidence) / 2;
  // A whole share has no room beyond it; an effective number can leave dust there.
  const none = x <= 1e-9 * n;
  const all = n - x <= 1e-9 * n;
  return {
    value: x / n,
    lower: none ? 0 : inverseBeta(x, n - x + 1, tail),
    upper: all ? 1 : inverseBeta(x + 1, n - x, 1 - tail),
    confidence,
    method: "exact binomial",
    unit: "fraction",
  };
}
