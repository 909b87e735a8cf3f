/** Student's t distribution with `df` > 0 degrees of freedom. */
import { betaLogTailsAtLogOdds, inverseBetaLogOdds } from "./incompleteBeta.ts";

/** P(T <= x), accurate in both tails. */
export function studentCdf(x: number, df: number): number {
  if (x === 0) return 0.5;
  // df / (df + x^2) has log odds log(df / x^2).
  const { logLower } = betaLogTailsAtLogOdds(0.5 * df, 0.5, Math.log(df) - 2 * Math.log(Math.abs(x)));
  const tail = 0.5 * Math.exp(logLower);
  return x < 0 ? tail : 1 - tail;
}

/** The x with P(T <= x) = p, 0 <= p <= 1. */
export function studentQuantile(p: number, df: number): number {
  if (!(p >= 0 && p <= 1)) return Number.NaN;
  if (p === 0.5) return 0;
  const tail = Math.min(p, 1 - p);
  const size = Math.sqrt(df * Math.exp(-inverseBetaLogOdds(0.5 * df, 0.5, 2 * tail, Math.abs(2 * p - 1))));
  return p < 0.5 ? -size : size;
}
