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
  const { usable, after, failures } = countsOf(bands);
  if (failures === 0) return { ratio: null, lower: 0, upper: null, pValue: 1, failures };
  const { lower, upper } = ratioBounds(bands, (1 - confidence) / 2);
  const shares = afterShares(usable, 1);
  return {
    ratio: after === failures ? null : after === 0 ? 0 : Math.exp(logRatioAt(usable, after)),
    lower,
    upper,
    pValue: Math.min(1, 2 * Math.min(below(shares, after), above(shares, after))),
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
  const { usable, after, failures } = countsOf(bands);
  // The search begins where the mean count after is the one found, half a failure away from none and from all.
  const middle = logRatioAt(usable, Math.min(Math.max(after, 0.5), failures - 0.5));
  const ratio = Math.exp(middle);
  const step =
    2 /
    Math.sqrt(usable.reduce((sum, band) => sum + failuresOf(band) * share(band, ratio) * (1 - share(band, ratio)), 0));
  const solve = (of: (shares: readonly number[]) => number): number =>
    Math.exp(rootAround((at) => of(afterShares(usable, Math.exp(at))), middle, step));
  return {
    lower: after === 0 ? 0 : solve((shares) => above(shares, after) - tail),
    upper: after === failures ? null : solve((shares) => tail - below(shares, after)),
  };
}

/** Only bands with hours on both sides say something of a difference. */
function countsOf(bands: readonly RateBand[]) {
  const usable = bands.filter(({ before, after }) => before.hours > 0 && after.hours > 0);
  return {
    usable,
    after: usable.reduce((sum, band) => sum + band.after.failures, 0),
    failures: usable.reduce((sum, band) => sum + failuresOf(band), 0),
  };
}

const failuresOf = ({ before, after }: RateBand): number => before.failures + after.failures;

/** Chance that a failure of the band is one after. */
function share({ before, after }: RateBand, ratio: number): number {
  const odds = (ratio * after.hours) / before.hours;
  return odds / (1 + odds);
}

/** Logarithm of the ratio at which the mean count after is as given, above 0 and below all. */
const logRatioAt = (usable: readonly RateBand[], after: number): number =>
  findRoot(
    (at) => usable.reduce((sum, band) => sum + failuresOf(band) * share(band, Math.exp(at)), 0) - after,
    -40,
    40,
    {
      tolerance: 1e-12,
    },
  );

/** Root of a rising function, looked for from a place outwards. */
function rootAround(f: (at: number) => number, from: number, step: number): number {
  const direction = f(from) > 0 ? -1 : 1;
  let [near, far] = [from, from + direction * step];
  for (let width = step; Math.sign(f(far)) !== direction && Math.abs(far) < 80; width *= 2)
    [near, far] = [far, far + direction * width];
  return findRoot(f, Math.min(near, far), Math.max(near, far), { tolerance: 1e-12 });
}

/** Chances of as few, and of as many, failures after as there were. */
const below = (shares: readonly number[], after: number): number => shares.slice(0, after + 1).reduce(sum, 0);
const above = (shares: readonly number[], after: number): number => shares.slice(after).reduce(sum, 0);

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
