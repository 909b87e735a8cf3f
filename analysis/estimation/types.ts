/** One way to say "censored": checked once by `lifeSample`, trusted after it. */

/**
 * Lives ready for fitting, as columns of equal length n.
 *   exact      lower = upper
 *   right      upper = Infinity
 *   left       lower = 0 (or lower = entry) < upper < Infinity
 *   interval   lower < upper < Infinity, failed in (lower, upper]
 *   entry      age at which observation began; > 0 is left truncation (the contribution is divided by S(entry))
 *   ranges     lowerHigh / upperHigh: the end is known only to lie in [lower, lowerHigh] (resp. upper); equal where known.
 *              The contribution is averaged over the range, uniformly.
 * All ages in `unit`, >= 0; counts > 0.
 */
export interface LifeSample {
  readonly unit: string;
  readonly n: number;
  readonly lower: Float64Array;
  readonly lowerHigh: Float64Array;
  readonly upper: Float64Array;
  readonly upperHigh: Float64Array;
  readonly entry: Float64Array;
  readonly count: Float64Array;
  /** Identity of each life, kept to the end; null where the caller has none. */
  readonly ids: readonly string[] | null;
}

/** Where the likelihood has its maximum, or why it has none. */
export type Maximum = "found" | "no failures" | "shape not bounded above" | "scale not bounded" | "not converged";
