import { AnalysisError } from "../../errors.ts";
import { checkOneEach, sampleRows } from "../bootstrap/sampleRows.ts";
import { compareGroups, type GroupComparison } from "../groups/compareGroups.ts";
import type { LifeSample } from "../types.ts";
import { type TrendOfLife, trendOfLife } from "./trendOfLife.ts";

export interface RenewalCheck {
  /** First, second, ... restoration of an item; the last stratum holds all later ones. */
  readonly strata: readonly { readonly from: number; readonly to: number | null; readonly lives: number }[];
  /** Likelihood ratio among the strata; null where there are fewer than two. */
  readonly comparison: GroupComparison | null;
  /** Life multiplied by `factor` at each further restoration; null where all lives have the same ordinal. */
  readonly trend: TrendOfLife | null;
  /** factor^9 with its bounds: how the life after the tenth restoration compares to the first. */
  readonly tenthOverFirst: {
    readonly value: number;
    readonly lower: number | null;
    readonly upper: number | null;
  } | null;
}

/**
 * Does the tenth redress last like the first? Lives by the ordinal of their restoration: as strata, and as a trend.
 *
 * @param ordinal     Of the restoration that began each life, counted on its item: 1, 2, 3, ...
 * @param strata      Ordinals that stand apart; later ones share the last stratum. 4 by default.
 * Errors             "bad-setting" for ordinals that are not whole numbers from 1, or of the wrong number.
 * Conventions        Strata without a life are left out. p-values take lives as independent.
 */
export function renewalCheck(
  sample: LifeSample,
  ordinal: readonly number[],
  confidence: number,
  strata = 4,
): RenewalCheck {
  checkOneEach("ordinal", ordinal, sample);
  const wrong = ordinal.find((one) => !(Number.isInteger(one) && one >= 1));
  if (wrong !== undefined) throw new AnalysisError("bad-setting", { setting: "ordinal", value: String(wrong) });
  const groups = Array.from({ length: strata }, (_, i) => {
    const isLast = i === strata - 1;
    const lives = sampleRows(sample, (row) => (isLast ? ordinal[row]! > i : ordinal[row] === i + 1));
    return { from: i + 1, to: isLast ? null : i + 1, lives };
  }).flatMap(({ from, to, lives }) => (lives ? [{ from, to, sample: lives }] : []));
  const trend = new Set(ordinal).size > 1 ? trendOfLife(sample, ordinal, confidence) : null;
  const ninth = (factor: number | null): number | null => (factor === null ? null : factor ** 9);
  return {
    strata: groups.map(({ from, to, sample: lives }) => ({ from, to, lives: lives.count.reduce((a, b) => a + b, 0) })),
    comparison:
      groups.length > 1
        ? compareGroups(
            groups.map(({ from, to, sample: lives }) => ({
              name: to === null ? `${from}+` : `${from}`,
              sample: lives,
            })),
          )
        : null,
    trend,
    tenthOverFirst:
      trend?.maximum === "found"
        ? { value: trend.factor ** 9, lower: ninth(trend.lower), upper: ninth(trend.upper) }
        : null,
  };
}
