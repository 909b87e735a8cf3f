import type { Comparison } from "../../statement/types.ts";
import { formatConfidence } from "../formatEstimate.ts";
import { formatNumber } from "../formatNumber.ts";
import { formatPercent } from "../formatPercent.ts";
import { sentenceCase } from "../inWords.ts";
import { type Figure, type Inline, say } from "./document.ts";
import { countFigure, hoursFigure } from "./figures.ts";

/** What a change did to one rate, no more than the bounds allow. */
export function sayRateComparison(one: Comparison, result: string): Inline {
  const { before, after, ratio, verdict } = one;
  const name = nameOf(one);
  const counts = say`${countFigure(before.failures, "failure", result)} in ${hoursFigure(before.hours, result)} before, ${countFigure(after.failures, "failure", result)} in ${hoursFigure(after.hours, result)} after`;
  const aged = one.ageStandardised ? ", at the same ages" : "";
  if (before.hours === 0 || after.hours === 0)
    return say`${name}: nothing to compare, no hours ${before.hours === 0 ? "before" : "after"} the change (${counts}).`;
  const figure = ratioFigure(one, result);
  switch (verdict) {
    case "fewer":
      return say`${name}: fewer failures after the change${aged}. The rate is ${figure} the rate before; at least ${percent(1 - (ratio.upper ?? 1), result)} fewer is shown (${counts}).`;
    case "more":
      return say`${name}: more failures after the change${aged}. The rate is ${figure} the rate before; at least ${{ text: `${formatNumber(ratio.lower ?? 1)} times`, value: ratio.lower, result }} as many is shown (${counts}).`;
    case "no difference shown":
      return say`${name}: no difference shown yet${aged}. The rate after is ${figure} the rate before${agreement(one)} (${counts}).`;
    case "too little to tell":
      return say`${name}: too few failures to tell (${counts}); the rate after may be ${figure} the rate before.`;
  }
}

/** Why a ratio whose bounds miss 1 is still not called a difference. */
function agreement({ ratio, adjustedPValue, pValue }: Comparison): string {
  const missesOne = (ratio.upper !== null && ratio.upper < 1) || (ratio.lower !== null && ratio.lower > 1);
  if (!missesOne) return ", and 1 (no change) lies within the bounds";
  return `; alone the bounds would exclude 1, but among so many comparisons such a one comes by chance (p ${formatNumber(pValue, 2)}, allowing for them ${formatNumber(adjustedPValue, 2)})`;
}

/** "0.31 (0.12–0.71, 90 %)". */
function ratioFigure({ ratio, after }: Comparison, result: string): Figure {
  const { value, lower, upper, confidence } = ratio;
  const level = formatConfidence(confidence);
  const bound = (limit: number | null): string => (limit === null ? "unbounded" : formatNumber(limit));
  if (value === null)
    return {
      text: lower === null ? "anything" : `${formatNumber(lower)} times or more (${level})`,
      value: null,
      result,
    };
  if (after.failures === 0) return { text: `at most ${bound(upper)} times (${level})`, value: 0, result };
  return { text: `${formatNumber(value)} times (${bound(lower)}–${bound(upper)}, ${level})`, value, result };
}

const percent = (share: number, result: string): Figure => ({
  text: `${formatPercent(share)} %`,
  value: 100 * share,
  result,
});

export function nameOf({ toolType, item, mode }: Pick<Comparison, "toolType" | "item" | "mode">): string {
  if (item === null) return "Runs that the tool ended";
  return sentenceCase(`${toolType === null ? "" : `${toolType}, `}${item}, ${mode ?? "any mode"}`);
}
