import { AnalysisError } from "../../errors.ts";
import { adjustPValues } from "./adjustPValues.ts";

export interface FalseCoverage {
  /** In the order of the p-values: adjusted, and whether it is at most `level`. */
  readonly adjusted: readonly number[];
  readonly isSelected: readonly boolean[];
  readonly selected: number;
  /**
   * Confidence at which each selected effect's own interval is to be taken, so that at most the share `level` of the intervals
   * shown is expected to miss: 1 - selected level / looked at. Null where none is selected.
   */
  readonly confidence: number | null;
}

/**
 * Effects picked from many because they stood out look larger than they are: which are picked at a false discovery rate, and how
 * wide their intervals must be to say so.
 *
 * @param pValues  Of all effects that were looked at, not only of those shown.
 * @param level    Of false discovery and of false coverage, 0 < level < 1.
 * Errors          "bad-setting" for a level or a p-value out of range.
 * Source          Benjamini & Hochberg (1995), J. R. Statist. Soc. B 57, 289-300; Benjamini & Yekutieli (2005), J. Amer. Statist.
 *                 Assoc. 100, 71-81, definition 1.
 */
export function falseCoverage(pValues: readonly number[], level: number): FalseCoverage {
  if (!(level > 0 && level < 1)) {
    throw new AnalysisError("bad-setting", {
      setting: "false discovery rate",
      value: String(level),
      allowed: "between 0 and 1",
    });
  }
  const adjusted = adjustPValues(pValues, "benjamini-hochberg");
  const isSelected = adjusted.map((value) => value <= level);
  const selected = isSelected.filter(Boolean).length;
  return { adjusted, isSelected, selected, confidence: selected > 0 ? 1 - (selected * level) / pValues.length : null };
}
