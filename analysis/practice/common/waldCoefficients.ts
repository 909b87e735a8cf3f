import { checkConfidence } from "../../estimation/weibullQuantity.ts";
import { normalLogUpperTail, normalQuantile } from "../../numerics/index.ts";
import type { Coefficient } from "../types.ts";

/**
 * Coefficients with Wald intervals and two-sided tests of 0.
 *
 * @param covariance  First rows and columns in the order of `names`; more are ignored.
 */
export function waldCoefficients(
  names: readonly string[],
  estimates: readonly number[],
  covariance: readonly (readonly number[])[],
  { confidence = 0.9, method = "wald" }: { readonly confidence?: number; readonly method?: Coefficient["method"] } = {},
): Coefficient[] {
  checkConfidence(confidence);
  const z = -normalQuantile(0.5 * (1 - confidence));
  return names.map((name, j) => {
    const estimate = estimates[j]!;
    const standardError = Math.sqrt(covariance[j]![j]!);
    return {
      name,
      estimate,
      standardError,
      lower: estimate - z * standardError,
      upper: estimate + z * standardError,
      pValue: Math.exp(Math.LN2 + normalLogUpperTail(Math.abs(estimate) / standardError)),
      confidence,
      method,
    };
  });
}
