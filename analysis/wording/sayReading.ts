import type { Estimate } from "../study/types.ts";
import { formatHours } from "./formatAge.ts";
import { whyNoValue } from "./formatEstimate.ts";
import { formatNumber } from "./formatNumber.ts";

/**
 * An estimate without its bounds, for a table that has columns for them: "410 h", "0.795". Where there is no value but a
 * bound that says something, that: "not reached; at least 284 h", "at least 0.97".
 */
export function sayReading({ value, lower, unit, why, method }: Estimate): string {
  const inUnit = (number: number): string => (unit === "h" ? formatHours(number) : formatNumber(number));
  if (value !== null) return inUnit(value);
  const words = whyNoValue[why ?? "no maximum"];
  if (lower === null || lower <= 0) return words;
  return method === "success run" ? `at least ${inUnit(lower)}` : `${words}; at least ${inUnit(lower)}`;
}

/** One bound of an estimate for a table: "365 h", "unbounded", "no bounds". */
export function sayBound(estimate: Estimate, end: "lower" | "upper"): string {
  const bound = estimate[end];
  if (end === "upper" && estimate.sides === "lower") return "not asked for";
  if (bound === null) return estimate.method === "none" ? "no bounds" : "unbounded";
  return estimate.unit === "h" ? formatHours(bound) : formatNumber(bound);
}

/** 0.9 and "below" as "5 % below": what lies beyond one bound of a two-sided interval; of a one-sided one "10 % below". */
export const sayLevel = (confidence: number, side: "below" | "above", sides: "both" | "lower" = "both"): string =>
  `${formatNumber((1 - confidence) * (sides === "lower" ? 100 : 50))} % ${side}`;
