import { AnalysisError } from "../../errors.ts";

/**
 * bonferroni, holm, hochberg hold the chance of any false finding; benjamini-hochberg and benjamini-yekutieli the expected
 * share of false ones among the findings (the latter whatever the dependence).
 */
export type PAdjustment = "bonferroni" | "holm" | "hochberg" | "benjamini-hochberg" | "benjamini-yekutieli";

/**
 * P-values adjusted for how many were looked at: compare each with the level that the whole list is to hold.
 *
 * @param pValues  In any order; the answer keeps it.
 * Errors          "bad-setting" for a value out of [0, 1].
 * Source          Holm (1979), Scand. J. Statist. 6, 65-70; Hochberg (1988), Biometrika 75, 800-802; Benjamini & Hochberg
 *                 (1995), J. R. Statist. Soc. B 57, 289-300; Benjamini & Yekutieli (2001), Ann. Statist. 29, 1165-1188.
 */
export function adjustPValues(pValues: readonly number[], method: PAdjustment): number[] {
  const bad = pValues.find((p) => !(p >= 0 && p <= 1));
  if (bad !== undefined)
    throw new AnalysisError("bad-setting", { setting: "p-value", value: String(bad), allowed: "0 to 1" });
  const m = pValues.length;
  const ascending = pValues.map((_, i) => i).sort((a, b) => pValues[a]! - pValues[b]!);
  const adjusted = new Array<number>(m).fill(1);
  if (method === "bonferroni") return pValues.map((p) => Math.min(1, m * p));
  if (method === "holm") {
    let before = 0;
    ascending.forEach((i, rank) => {
      before = Math.max(before, (m - rank) * pValues[i]!);
      adjusted[i] = Math.min(1, before);
    });
    return adjusted;
  }
  const dependence = method === "benjamini-yekutieli" ? pValues.reduce((sum, _, i) => sum + 1 / (i + 1), 0) : 1;
  let after = 1;
  for (let rank = m - 1; rank >= 0; rank--) {
    const i = ascending[rank]!;
    const factor = method === "hochberg" ? m - rank : (dependence * m) / (rank + 1);
    after = Math.min(after, factor * pValues[i]!);
    adjusted[i] = after;
  }
  return adjusted;
}
