import type { Estimate } from "../study/types.ts";
import { hoursNumber } from "./formatAge.ts";
import { formatNumber } from "./formatNumber.ts";

/** 0.9 as "90 %". */
export function formatConfidence(confidence: number): string {
  return `${formatNumber(100 * confidence, 4)} %`;
}

/**
 * A number with unit, bounds and their level: "410 h (365–455, 90 %)".
 * What is not there is said in words: "not reached (365 h or more, 90 %)", "no failures (at most 1.5 per 1,000 h, 90 %)",
 * "410 h (365–unbounded, 90 %)", "410 h (no bounds)"; with a one-sided bound "410 h (at least 365, 90 %)".
 */
export function formatEstimate(estimate: Estimate): string {
  const { value, lower, upper, confidence, why } = estimate;
  const unit = unitOf(estimate);
  const level = formatConfidence(confidence);
  const noFailures = why === "no failures" && (value === null || value === 0);
  if (value === null || noFailures) return `${whyNoValue[why ?? "no maximum"]}${only(estimate)}`;
  const number = `${numberOf(estimate, value)}${unit}`;
  if (estimate.sides === "lower")
    return `${number} (${lower === null ? "no least value" : `at least ${numberOf(estimate, lower)}`}, ${level})`;
  if (lower === null && upper === null) return `${number} (no bounds)`;
  return `${number} (${boundOf(estimate, lower)}–${boundOf(estimate, upper)}, ${level})`;
}

/** The bounds alone: "365–455 h, 90 %"; "no bounds" where there are none. */
export function formatBounds(estimate: Estimate): string {
  const { lower, upper, confidence } = estimate;
  if (lower === null && upper === null) return "no bounds";
  if (estimate.sides === "lower")
    return `at least ${boundOf(estimate, lower)}${unitOf(estimate)}, ${formatConfidence(confidence)}`;
  return `${boundOf(estimate, lower)}–${boundOf(estimate, upper)}${unitOf(estimate)}, ${formatConfidence(confidence)}`;
}

/** Why there is no number. */
export const whyNoValue: Readonly<Record<NonNullable<Estimate["why"]>, string>> = {
  "not reached": "not reached",
  "found failed": "found failed",
  "no failures": "no failures",
  "no maximum": "not known yet",
  "no hours": "no hours",
  "no interval pays": "no interval pays",
  "no interval shown to pay": "not shown yet",
  "nothing stops a job": "nothing stops a job",
  "before 0 h": "before 0 h",
};

/** Bounds that stand without an estimate. */
function only(estimate: Estimate): string {
  const { lower, upper } = estimate;
  const [unit, level] = [unitOf(estimate), formatConfidence(estimate.confidence)];
  const below = lower !== null && lower > 0;
  if (below && upper !== null) return ` (${numberOf(estimate, lower)}–${numberOf(estimate, upper)}${unit}, ${level})`;
  if (below) return ` (${numberOf(estimate, lower)}${unit} or more, ${level})`;
  return upper === null ? "" : ` (at most ${numberOf(estimate, upper)}${unit}, ${level})`;
}

const numberOf = ({ unit }: Estimate, value: number): string =>
  unit === "h" ? hoursNumber(value) : formatNumber(value);

const boundOf = (estimate: Estimate, bound: number | null): string =>
  bound === null ? "unbounded" : numberOf(estimate, bound);

function unitOf({ unit }: Estimate): string {
  return unit === "h" || unit === "per 1,000 h" || unit === "kJ/mol" ? ` ${unit}` : "";
}
