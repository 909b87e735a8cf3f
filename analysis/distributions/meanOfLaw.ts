import { gamma, logGamma } from "../numerics/index.ts";
import { stirlingRemainder } from "../numerics/stirlingByShape.ts";
import type { LawFamily, Theta } from "./lawFamilies.ts";

const EULER = 0.5772156649015329;

/**
 * The mean at mu = 0: of the law itself on the natural scale, its logarithm on the log scale, where the mean is exp(mu) times it.
 * For the law with a threshold: the log mean beyond the threshold. Infinity where there is no mean.
 *
 *   weibull log Gamma(1 + sigma); lognormal sigma^2 / 2; loglogistic log(pi sigma / sin(pi sigma)), sigma < 1; gamma log shape;
 *   generalised gamma log Gamma(k + sigma/Q) - log Gamma(k) + (sigma/Q) log Q^2, k = 1/Q^2, where k + sigma/Q > 0
 *
 * Source  Lawless (2003), section 1.3.
 */
export function meanAtZero(family: LawFamily, sigma: number, third: number): number {
  switch (family.name) {
    case "weibull":
    case "exponential":
    case "three-parameter weibull":
      return logGamma(1 + sigma);
    case "lognormal":
      return 0.5 * sigma * sigma;
    case "loglogistic":
      return sigma < 1 ? Math.log((Math.PI * sigma) / Math.sin(Math.PI * sigma)) : Number.POSITIVE_INFINITY;
    case "gamma":
      return third;
    case "generalised gamma":
      return prenticeLogMean(sigma, third);
    case "smallest extreme value":
      return -EULER * sigma;
    case "normal":
      return 0;
  }
}

/** With r = sigma Q: sigma^2 [(1 + r) log(1 + r) - r] / r^2 - log(1 + r) / 2 + s(k (1 + r)) - s(k), s Stirling's remainder. */
function prenticeLogMean(sigma: number, q: number): number {
  const r = sigma * q;
  if (r <= -1) return Number.POSITIVE_INFINITY;
  let lead: number;
  if (Math.abs(r) > 0.05) lead = ((1 + r) * Math.log1p(r) - r) / (r * r);
  else {
    // 1/2 - r/6 + r^2/12 - ..., the n-th term (-r)^n / ((n + 1)(n + 2))
    lead = 0;
    for (let n = 14; n >= 0; n--) lead = 1 / ((n + 1) * (n + 2)) - r * lead;
  }
  const k = 1 / (q * q);
  const remainder = q === 0 || k > 1e300 ? 0 : stirlingRemainder(k * (1 + r)) - stirlingRemainder(k);
  return sigma * sigma * lead - 0.5 * Math.log1p(r) + remainder;
}

/** Mean life; Infinity where the law has none. */
export function meanOfLaw(family: LawFamily, theta: Theta): number {
  const [mu, logSigma, third] = theta;
  const sigma = Math.exp(logSigma);
  if (family.ageScale === "natural") return mu + meanAtZero(family, sigma, third);
  if (family.name === "weibull") return Math.exp(mu) * gamma(1 + sigma);
  const beyond = Math.exp(mu + meanAtZero(family, sigma, third));
  return family.ageScale === "log" ? beyond : third + beyond;
}
