export type BoundsMethod = "plain" | "log" | "log-log";

/**
 * Pointwise bounds of a survival fraction from its relative standard error se(S) / S.
 *   plain    S -/+ z se, cut to [0, 1]
 *   log      S exp(-/+ z se / S), cut at 1
 *   log-log  S^exp(-/+ z se / (S log S)): always inside (0, 1)
 *
 * @returns  Lower and upper bound. With S = 1 (nothing failed) both are 1 for every method.
 * Source    Kalbfleisch & Prentice (2002), The Statistical Analysis of Failure Time Data, 2nd ed., section 1.4.
 */
export function survivalBounds(
  survival: number,
  relativeError: number,
  z: number,
  method: BoundsMethod,
): readonly [lower: number, upper: number] {
  if (survival >= 1) return [1, 1];
  const spread = z * relativeError;
  switch (method) {
    case "plain":
      return [Math.max(0, survival * (1 - spread)), Math.min(1, survival * (1 + spread))];
    case "log":
      return [survival * Math.exp(-spread), Math.min(1, survival * Math.exp(spread))];
    case "log-log": {
      const logSurvival = Math.log(survival);
      const ratio = spread / -logSurvival;
      return [Math.exp(logSurvival * Math.exp(ratio)), Math.exp(logSurvival * Math.exp(-ratio))];
    }
  }
}
