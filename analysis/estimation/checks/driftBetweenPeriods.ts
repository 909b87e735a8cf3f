import { checkOneEach, sampleRows } from "../bootstrap/sampleRows.ts";
import { compareGroups, type GroupComparison } from "../groups/compareGroups.ts";
import { type RatioOfLives, ratioOfLives } from "../groups/ratioOfLives.ts";
import type { LifeSample } from "../types.ts";

export type DriftBetweenPeriods =
  | {
      readonly isComparable: true;
      readonly splitOn: string;
      readonly comparison: GroupComparison;
      /** B10 of lives restored on or after the date over B10 of those before. */
      readonly b10Ratio: RatioOfLives;
    }
  | { readonly isComparable: false; readonly splitOn: string; readonly empty: "before" | "from" };

/**
 * Have lives changed since a date? Those restored before it against those restored on it or later.
 *
 * @param restoredOn  Date of the restoration that began each life, "YYYY-MM-DD", in the order of the sample.
 * Conventions        By date of restoration, not of failure: by failure, early failures alone would fall into the earlier period.
 * Errors             "bad-setting" for dates of the wrong number.
 */
export function driftBetweenPeriods(
  sample: LifeSample,
  restoredOn: readonly string[],
  splitOn: string,
  confidence: number,
): DriftBetweenPeriods {
  checkOneEach("restored on", restoredOn, sample);
  const before = sampleRows(sample, (row) => restoredOn[row]! < splitOn);
  const from = sampleRows(sample, (row) => restoredOn[row]! >= splitOn);
  if (!before || !from) return { isComparable: false, splitOn, empty: before ? "from" : "before" };
  return {
    isComparable: true,
    splitOn,
    comparison: compareGroups([
      { name: "before", sample: before },
      { name: "from", sample: from },
    ]),
    b10Ratio: ratioOfLives(from, before, { confidence }),
  };
}
