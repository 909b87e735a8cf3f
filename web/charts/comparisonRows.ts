import { type BeforeAfter, plainText, sayComparisonName, sayRateComparison } from "../../analysis/index.ts";
import type { RatioRow } from "./comparisonsLayout.ts";

/** The comparisons of a statement as rows of `ComparisonsChart`. */
export function comparisonRows({ comparisons }: BeforeAfter): readonly RatioRow[] {
  return comparisons.map((one) => ({
    name: sayComparisonName(one),
    ratio: one.ratio,
    shown: one.verdict === "fewer" || one.verdict === "more",
    label: plainText(sayRateComparison(one, "")),
  }));
}
