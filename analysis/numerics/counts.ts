/** Distribution functions of counts. */
import { betaLogTails } from "./incompleteBeta.ts";
import { regularizedGammaQ } from "./incompleteGamma.ts";

/** P(N <= k) for a Poisson count with mean mu >= 0. */
export function poissonCdf(k: number, mu: number): number {
  if (k < 0) return 0;
  return regularizedGammaQ(Math.floor(k) + 1, mu);
}

/** P(N <= k) for a binomial count of n trials with probability p. */
export function binomialCdf(k: number, n: number, p: number): number {
  if (k < 0) return 0;
  const whole = Math.floor(k);
  if (whole >= n) return 1;
  return Math.exp(betaLogTails(whole + 1, n - whole, p).logUpper);
}
