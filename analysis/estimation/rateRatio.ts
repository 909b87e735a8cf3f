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
  const usable = usableBands(bands);
  const after = usable.reduce((sum, band) => sum + band.after.failures, 0);
  const failures = usable.reduce((sum, band) => sum + band.before.failures + band.after.failures, 0);
  if (failures === 0) return { ratio: null, lower: 0, upper: null, pValue: 1, failures };

  const { below, above, mean } = tailsOf(usable, after);
  const { lower, upper } = ratioBounds(bands, (1 - confidence) / 2);
  return {
    ratio: after === failures ? null : after === 0 ? 0 : solve((at) => mean(at) - after),
    lower,
    upper,
    pValue: Math.min(1, 2 * Math.min(below(0), above(0))),
    failures,
  };
}

/**
 * Exact bounds of the ratio with so much probability beyond each; a null upper bound is unbounded.
 * @param tail  In (0, 1/2).
 */
export function ratioBounds(
  bands: readonly RateBand[],
  tail: number,
): { readonly lower: number; readonly upper: number | null } {
  const usable = usableBands(bands);
  const after = usable.reduce((sum, band) => sum + band.after.failures, 0);
  const failures = usable.reduce((sum, band) => sum + band.before.failures + band.after.failures, 0);
  const { below, above } = tailsOf(usable, after);
  return {
    lower: after === 0 ? 0 : solve((at) => above(at) - tail),
    upper: after === failures ? null : solve((at) => below(at) - tail),
  };
}

/** Only bands with hours on both sides say something of a difference. */
export const usableBands = (bands: readonly RateBand[]): readonly RateBand[] =>
  bands.filter(({ before, after }) => before.hours > 0 && after.hours > 0);

/** Chances of as few, and of as many, failures after as there were, and their mean, by the logarithm of the ratio. */
function tailsOf(usable: readonly RateBand[], after: number) {
  const shares = (logRatio: number): readonly number[] => afterShares(usable, Math.exp(logRatio));
  return {
    below: (logRatio: number): number =>
      shares(logRatio)
        .slice(0, after + 1)
        .reduce(sum, 0),
    above: (logRatio: number): number => shares(logRatio).slice(after).reduce(sum, 0),
    mean: (logRatio: number): number => shares(logRatio).reduce((total, share, count) => total + share * count, 0),
  };
}

const solve = (f: (logRatio: number) => number): number => Math.exp(findRoot(f, -40, 40, { tolerance: 1e-12 }));

/** Distribution of the failures after, given those of each band, for one ratio of rates. */
function afterShares(bands: readonly RateBand[], ratio: number): readonly number[] {
  const shares = [1];
  for (const { before, after } of bands) {
    const odds = (ratio * after.hours) / before.hours;
    const p = odds / (1 + odds);
    const q = 1 / (1 + odds);
    for (let trial = 0; trial < before.failures + after.failures; trial++) {
      shares.push(0);
      for (let count = shares.length - 1; count > 0; count--)
        shares[count] = q * shares[count]! + p * shares[count - 1]!;
      shares[0]! *= q;
    }
  }
  return shares;
}

const sum = (total: number, share: number): number => total + share;
