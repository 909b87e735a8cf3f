import { AnalysisError } from "../errors.ts";
import { findRoot } from "../numerics/index.ts";

/** Failures and hours before and after in one band of age. */
export interface RateBand {
  readonly before: { readonly failures: number; readonly hours: number };
  readonly after: { readonly failures: number; readonly hours: number };
}

export interface RateRatio {
  /** Rate after over rate before; null without failures before, or without hours on one side. */
  readonly ratio: number | null;
  readonly lower: number;
  /** Null: unbounded. */
  readonly upper: number | null;
  /** Two-sided, of "no difference": twice the smaller tail. */
  readonly pValue: number;
  /** Failures in bands with hours on both sides; others say nothing of a difference. */
  readonly failures: number;
}

/**
 * Ratio of two failure rates at the same ages, by exact conditional inference: given the m failures of a band, those after
 * are binomial(m, theta T1 / (theta T1 + T0)); their sum over bands is distributed as the convolution, for one theta.
 *
 * @returns  The conditional maximum likelihood estimate with exact bounds; one band gives the usual exact ratio.
 * Source    Breslow & Day (1987), Statistical Methods in Cancer Research II, IARC 82, 3.3 and 3.6; Clopper & Pearson (1934)
 *           for the binomial tails.
 */
export function rateRatio(bands: readonly RateBand[], confidence: number): RateRatio {
  if (!(confidence > 0 && confidence < 1))
    throw new AnalysisError("bad-setting", { setting: "confidence", value: confidence });
  const usable = bands.filter(({ before, after }) => before.hours > 0 && after.hours > 0);
  const after = usable.reduce((sum, band) => sum + band.after.failures, 0);
  const failures = usable.reduce((sum, band) => sum + band.before.failures + band.after.failures, 0);
  if (failures === 0) return { ratio: null, lower: 0, upper: null, pValue: 1, failures };

  const tail = (1 - confidence) / 2;
  const shares = (logRatio: number): readonly number[] => afterShares(usable, Math.exp(logRatio));
  const below = (logRatio: number): number =>
    shares(logRatio)
      .slice(0, after + 1)
      .reduce(sum, 0);
  const above = (logRatio: number): number => shares(logRatio).slice(after).reduce(sum, 0);
  const mean = (logRatio: number): number => shares(logRatio).reduce((total, share, count) => total + share * count, 0);
  const solve = (f: (logRatio: number) => number): number => Math.exp(findRoot(f, -40, 40, { tolerance: 1e-12 }));
  return {
    ratio: after === failures ? null : after === 0 ? 0 : solve((at) => mean(at) - after),
    lower: after === 0 ? 0 : solve((at) => above(at) - tail),
    upper: after === failures ? null : solve((at) => below(at) - tail),
    pValue: Math.min(1, 2 * Math.min(below(0), above(0))),
    failures,
  };
}

/** Distribution of the failures after, given those of each band, for one ratio of rates. */
function afterShares(bands: readonly RateBand[], ratio: number): readonly number[] {
  let shares: readonly number[] = [1];
  for (const { before, after } of bands) {
    const odds = (ratio * after.hours) / before.hours;
    const p = odds / (1 + odds);
    const q = 1 / (1 + odds);
    for (let trial = 0; trial < before.failures + after.failures; trial++) {
      shares = Array.from(
        { length: shares.length + 1 },
        (_, count) => q * (shares[count] ?? 0) + p * (shares[count - 1] ?? 0),
      );
    }
  }
  return shares;
}

const sum = (total: number, share: number): number => total + share;
