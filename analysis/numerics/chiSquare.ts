/** The chi-square distribution with `df` > 0 degrees of freedom. */
import { inverseGammaP, regularizedGammaP, regularizedGammaQ } from "./incompleteGamma.ts";

/** P(X <= x). */
export function chiSquareCdf(x: number, df: number): number {
  return regularizedGammaP(0.5 * df, Math.max(0, 0.5 * x));
}

/** P(X > x), accurate in the far tail. */
export function chiSquareUpperTail(x: number, df: number): number {
  return regularizedGammaQ(0.5 * df, Math.max(0, 0.5 * x));
}

/** The x with P(X <= x) = p, 0 <= p <= 1. */
export function chiSquareQuantile(p: number, df: number): number {
  return 2 * inverseGammaP(0.5 * df, p);
}
