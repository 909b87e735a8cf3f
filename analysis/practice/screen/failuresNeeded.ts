import { normalQuantile } from "../../numerics/index.ts";

/**
 * Failures that a comparison must see to find a given multiplier of life:
 *   D = (z_(1 - a/2) + z_power)^2 / (b^2 v s),   b = log(multiplier) / spread
 *
 * @param multiplier  Of life for the step compared, > 0 and not 1.
 * @param spread      1 / Weibull shape, so that b is the log ratio of hazards.
 * @param variance    Of the practice in units of the step: p (1 - p) for two groups, 1/4 where they alternate.
 * @param shareLeft   Share of that variance which everything else leaves; 1 where serials alternate.
 * Source             Schoenfeld (1983), Biometrics 39, 499-503; Hsieh & Lavori (2000), Controlled Clinical Trials 21, 552-560.
 */
export function failuresNeeded({
  multiplier,
  spread,
  variance,
  shareLeft = 1,
  power = 0.8,
  level = 0.05,
}: {
  readonly multiplier: number;
  readonly spread: number;
  readonly variance: number;
  readonly shareLeft?: number;
  readonly power?: number;
  readonly level?: number;
}): number {
  const wanted = normalQuantile(1 - level / 2) + normalQuantile(power);
  const effect = Math.log(multiplier) / spread;
  return wanted ** 2 / (effect ** 2 * variance * shareLeft);
}
