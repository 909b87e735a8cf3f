import type { Estimate } from "../../study/types.ts";
import { formatConfidence, formatEstimate } from "../formatEstimate.ts";
import { formatExact, formatNumber } from "../formatNumber.ts";
import { formatPercent } from "../formatPercent.ts";
import { countOf } from "../inWords.ts";
import type { Figure, StatementCell } from "./document.ts";

/** "12 runs" as a figure. */
export const countFigure = (count: number, one: string, result: string, many?: string): Figure => ({
  text: countOf(count, one, many),
  value: count,
  result,
});

export const exactFigure = (value: number, result: string): Figure => ({ text: formatExact(value), value, result });

/** An estimate with its bounds, as it is always said. */
export const estimateFigure = (estimate: Estimate, result: string): Figure => ({
  text: estimate.unit === "fraction" ? sayShare(estimate) : formatEstimate(estimate),
  value: estimate.value,
  result,
});

/** A fraction in per cent with its bounds: "94.6 % (91–97, 90 %)"; without a value, the bound that is known. */
export function sayShare({ value, lower, upper, confidence }: Estimate): string {
  const level = formatConfidence(confidence);
  if (value === null)
    return lower !== null && lower > 0 ? `at least ${formatPercent(lower)} % (${level})` : "not known yet";
  return `${formatPercent(value)} % (${formatPercent(lower ?? 0)}–${formatPercent(upper ?? 1)}, ${level})`;
}

export const numberCell = (value: number | null, whyNot = "not known"): StatementCell => ({
  value,
  text: value === null ? whyNot : formatNumber(value),
});

export const countCell = (value: number): StatementCell => ({ value, text: formatExact(value) });

export const percentCell = (share: number | null, whyNot = "not known"): StatementCell => ({
  value: share === null ? null : 100 * share,
  text: share === null ? whyNot : formatPercent(share),
});

/** Whole hours: a sum of hours is known no better. */
export const hoursText = (hours: number): string => `${formatExact(Math.round(hours))} h`;
export const hoursFigure = (hours: number, result: string): Figure => ({
  text: hoursText(hours),
  value: hours,
  result,
});
export const hoursCell = (hours: number): StatementCell => ({ value: hours, text: formatExact(Math.round(hours)) });

/** "5 % below, 5 % above" in a heading: what lies beyond each bound. */
export const boundTitles = (confidence: number): readonly [string, string] => {
  const beyond = formatNumber((1 - confidence) * 50);
  return [`${beyond} % below`, `${beyond} % above`];
};

export const formatP = (p: number): string => (p < 0.001 ? "below 0.001" : formatNumber(p, 2));
