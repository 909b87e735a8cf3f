/** The standard normal distribution, accurate in both tails. */
import { gammaLogTails } from "./incompleteGamma.ts";

/** log P(Z > x). Accuracy: relative 1e-13, also where the tail itself underflows. */
export function normalLogUpperTail(x: number): number {
  if (Number.isNaN(x)) return x;
  const { logUpper } = gammaLogTails(0.5, 0.5 * x * x);
  const logTail = logUpper - Math.LN2;
  return x >= 0 ? logTail : Math.log1p(-Math.exp(logTail));
}

/** P(Z <= x). Accuracy: relative 1e-13 in the lower tail. */
export function normalCdf(x: number): number {
  return x <= 0 ? Math.exp(normalLogUpperTail(-x)) : 1 - Math.exp(normalLogUpperTail(x));
}

/** Density of Z at x. */
export function normalDensity(x: number): number {
  return Math.exp(-0.5 * x * x) / Math.sqrt(2 * Math.PI);
}

/**
 * The x with P(Z <= x) = p. 0 <= p <= 1; -Infinity and Infinity at the ends. Accuracy: relative 1e-13.
 * Newton's method, on the distance from one half in the middle and on the logarithm of the tail outside.
 * Source: starting value in the tail from Abramowitz & Stegun 26.2.23.
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) return Number.NaN;
  if (p === 0.5) return 0;
  return p > 0.5 ? -lowerQuantile(1 - p, p - 0.5) : lowerQuantile(p, 0.5 - p);
}

/** Quantile for p < 1/2, with the distance 1/2 - p given beside it. */
function lowerQuantile(p: number, fromHalf: number): number {
  if (p === 0) return Number.NEGATIVE_INFINITY;
  // In the middle the line through the origin starts below the root and stays above 0, as Newton's steps then do.
  let x = fromHalf < 0.3 ? fromHalf * Math.sqrt(2 * Math.PI) : startInTail(p);
  for (let step = 0; step < 20; step++) {
    const change =
      fromHalf < 0.3
        ? (0.5 * Math.exp(gammaLogTails(0.5, 0.5 * x * x).logLower) - fromHalf) / normalDensity(x)
        : (Math.log(p) - normalLogUpperTail(x)) *
          Math.exp(normalLogUpperTail(x) + 0.5 * x * x) *
          Math.sqrt(2 * Math.PI);
    x -= change;
    if (Math.abs(change) <= 1e-14 * Math.abs(x)) break;
  }
  return -x;
}

/** To 4.5e-4. */
function startInTail(p: number): number {
  const t = Math.sqrt(-2 * Math.log(p));
  return t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
}
