/** Words of the page itself: headings of charts and tables. Sentences about results come from `analysis/wording`. */
import {
  type Estimate,
  formatDate,
  formatEstimate,
  formatExact,
  formatHours,
  formatNumber,
  type ItemLifeResult,
  type LifeHistory,
  type LineCounts,
  type StudyDefinition,
  type ToolHistoryResult,
  type WhatFailsResult,
} from "../../analysis/index.ts";

const whyWords: Readonly<Record<NonNullable<Estimate["why"]>, string>> = {
  "not reached": "not reached",
  "no failures": "no failures",
  "no maximum": "not known yet",
  "no hours": "no hours",
};

/** An estimate without its bounds, for a table that has columns for them. */
export function sayValueOf({ value, unit, why }: Estimate): string {
  if (value === null) return whyWords[why ?? "no maximum"];
  return unit === "h" ? formatHours(value) : formatNumber(value);
}

export function sayBound(estimate: Estimate, end: "lower" | "upper"): string {
  const bound = estimate[end];
  if (bound === null) return estimate.method === "none" ? "no bounds" : "unbounded";
  return estimate.unit === "h" ? formatHours(bound) : formatNumber(bound);
}

/** 0.9 and "below" as "5 % below": what lies beyond one bound of a two-sided interval. */
export const sayLevel = (confidence: number, side: "below" | "above"): string =>
  `${formatNumber((1 - confidence) * 50)} % ${side}`;

export const sayHours = (hours: number | null): string => (hours === null ? "not reached" : formatHours(hours));

/** 0 as "no rows", 1 as "1 row", 2 as "2 rows". */
export function sayCount(count: number, one: string, many = `${one}s`): string {
  return `${count === 0 ? "no" : formatExact(count)} ${count === 1 ? one : many}`;
}

/** "371 new, 32 unchanged, 3 changed, 6 set aside": what is not there is left out, except that nothing was set aside. */
export function sayLineCounts(counts: LineCounts): string {
  const parts = [
    [counts.new, "new"],
    [counts.unchanged, "unchanged"],
    [counts.changed, "changed"],
  ] as const;
  const there = parts.filter(([count]) => count > 0).map(([count, word]) => `${formatExact(count)} ${word}`);
  return [...there, `${counts.setAside === 0 ? "none" : formatExact(counts.setAside)} set aside`].join(", ");
}

const missingHoursWords: Readonly<Record<StudyDefinition["missingHours"], string>> = {
  "shop rate": "taken at the shop's hours a day",
  averaged: "taken anywhere in their range",
  "all low": "all taken as none",
  "all high": "all taken as 24 h a day",
  "left out": "lives with them left out",
};
export const sayMissingHours = (choice: StudyDefinition["missingHours"]): string => missingHoursWords[choice];

const endWords: Readonly<Record<LifeHistory["kind"], string>> = {
  exact: "failed, hour known",
  interval: "failed between two looks",
  left: "found failed at the first look",
  right: "sound so far",
};
export const sayLifeEnd = ({ kind }: Pick<LifeHistory, "kind">): string => endWords[kind];

/** What a picture of an item's life shows, as its heading. */
export function sayLifeFinding(result: ItemLifeResult, picture: "survival" | "probability" | "histories"): string {
  const { item, mode, fit, readings, counts } = result;
  const name = `${capital(item)}, ${mode}`;
  if (picture === "histories") {
    const ended = counts.failures === 0 ? "none has failed" : `${formatExact(counts.failures)} have failed`;
    return `${name}: ${sayCount(counts.lives, "life", "lives")} from restoration to what is known last; ${ended}`;
  }
  if (picture === "survival")
    return readings.b10.value === null
      ? `${name}: share still good against hours`
      : `${name}: one in ten has failed by ${formatEstimate(readings.b10)}`;
  if (fit === null) return `${name}: failures on paper where a straight line is a Weibull life`;
  const { value, lower, upper } = fit.shape;
  const tells =
    lower !== null && lower > 1
      ? "wears out, the risk grows with hours"
      : upper !== null && upper < 1
        ? "fails early, the risk falls with hours"
        : "no change of risk with hours shown yet";
  return `${name}: ${tells}; shape ${value === null ? "not known" : formatEstimate(fit.shape)}`;
}

/** What a picture of the fleet shows, as its heading. */
export function sayFleetFinding(result: WhatFailsResult, picture: "rates" | "drawing" | "over time"): string {
  const first = result.modes[0];
  const level = `${formatNumber(100 * result.definition.confidence)} %`;
  if (first === undefined) return "No failure mode in this scope";
  if (picture === "rates")
    return `${capital(first.item)}, ${first.mode} has the highest rate; bars are ${level} bounds`;
  if (picture === "drawing") return "Where in the tool: the stronger the shade, the more failures per 1,000 h";
  const periods = result.periods;
  return `Failures per 1,000 h by half-year, ${periods[0]?.label ?? ""} to ${periods[periods.length - 1]?.label ?? ""}`;
}

/** What the picture of one serial shows, as its heading. */
export function sayHistoryFinding({ tool, events }: ToolHistoryResult): string {
  const [first, last] = [events[0], events[events.length - 1]];
  return first === undefined || last === undefined
    ? `${tool.serial}: nothing written down yet`
    : `${tool.serial} from ${formatDate(first.on)} to ${formatDate(last.on)}`;
}

const capital = (text: string) => text.slice(0, 1).toUpperCase() + text.slice(1);
