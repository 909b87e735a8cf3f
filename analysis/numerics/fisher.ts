/** The F distribution with `df1`, `df2` > 0 degrees of freedom. */
import { betaLogTailsAtLogOdds, inverseBetaLogOdds } from "./incompleteBeta.ts";

/** P(F > x), accurate in the far tail. */
export function fUpperTail(x: number, df1: number, df2: number): number {
  if (x <= 0) return 1;
  return Math.exp(betaLogTailsAtLogOdds(0.5 * df1, 0.5 * df2, Math.log(x) + Math.log(df1 / df2)).logUpper);
}

/** The x with P(F <= x) = p, 0 <= p <= 1. Goes by the beta quantile: exact also where p is tiny and df1 = 1. */
export function fQuantile(p: number, df1: number, df2: number): number {
  if (!(p >= 0 && p <= 1)) return Number.NaN;
  return (df2 / df1) * Math.exp(inverseBetaLogOdds(0.5 * df1, 0.5 * df2, p, 1 - p));
}
