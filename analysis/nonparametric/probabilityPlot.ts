import type { LifeSample } from "../estimation/types.ts";
import { censoringOf } from "./censoring.ts";
import { productLimit } from "./productLimit.ts";
import { turnbull } from "./turnbull.ts";

/** A failure's place on the probability plot: at one age (`low` = `high`), or somewhere in (low, high]. */
export interface PlottingPosition {
  readonly low: number;
  readonly high: number;
  /** 0 < fraction < 1: half-way up the step that the failure makes. */
  readonly failedFraction: number;
  /** Lives that failed there, or may have; between looks a life can stand at several places. */
  readonly lifeIds: readonly string[];
}

/**
 * Plotting positions from the nonparametric estimate: each step of the failed fraction is plotted at its middle,
 *   p = 1 - (S before + S after) / 2,
 * which for complete data is (i - 1/2) / n.
 *
 * @param sample  n >= 1 lives without ranged ends. Exact and right-censored ones go by the product-limit, any others by
 *                Turnbull.
 * @returns       Ascending in age; none where nothing failed. Mass beyond the last look is no failure and has no place.
 * Conventions    Steps after the estimate has come down to 0 are left out: nothing is left to place them.
 * Errors         As `productLimit` and `turnbull`.
 * Source         Meeker & Escobar (1998), Statistical Methods for Reliability Data, section 6.4 (from memory); Hazen (1914),
 *                Trans. Amer. Soc. Civ. Eng. 77, 1539-1640, for the middle of the step.
 */
export function probabilityPlot(sample: LifeSample): PlottingPosition[] {
  const indexes = Array.from({ length: sample.n }, (_, i) => i);
  const simple = indexes.every((i) => ["exact", "right"].includes(censoringOf(sample, i)));
  const idOf = (i: number): string => sample.ids?.[i] ?? String(i + 1);
  const steps = simple
    ? productLimit(sample).steps.map((step) => ({
        low: step.time,
        high: step.time,
        survivalAfter: step.survival,
        lives: step.failed,
      }))
    : turnbull(sample).intervals.flatMap(({ low, high, survivalAfter }) =>
        high === null
          ? []
          : [{ low, high, survivalAfter, lives: indexes.filter((i) => mayHaveFailed(sample, i, low, high)) }],
      );

  let before = 1;
  return steps.flatMap(({ low, high, survivalAfter, lives }): PlottingPosition[] => {
    const failedFraction = 1 - (before + survivalAfter) / 2;
    const known = before > 0;
    before = survivalAfter;
    return known ? [{ low, high, failedFraction, lifeIds: lives.map(idOf) }] : [];
  });
}

function mayHaveFailed(sample: LifeSample, i: number, low: number, high: number): boolean {
  const [lower, upper] = [sample.lower[i] ?? 0, sample.upper[i] ?? 0];
  if (upper === Number.POSITIVE_INFINITY) return false;
  if (lower === upper) return low === lower && high === lower;
  return low === high ? lower < low && high <= upper : lower <= low && high <= upper;
}
