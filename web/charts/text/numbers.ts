/** Numbers as they stand on a chart: worded by `analysis/wording`, so that picture and sentence say the same. */
import { format } from "d3-format";
import {
  type Age,
  type Estimate,
  formatAge,
  formatConfidence,
  formatEstimate,
  formatNumber,
  formatPercent,
} from "../../../analysis/index.ts";

/** Three significant digits: 1,240; 185; 0.58. */
export const threeDigits = (value: number): string => formatNumber(value);

/** Every digit of a count or of hours followed: 60,491. */
export const whole = format(",.0f");

export const percent = (fraction: number): string => `${formatPercent(fraction)} %`;

/** "149–229", "149 or more", "at most 229"; `say` words each. */
export function boundsText(
  { lower, upper }: Pick<Estimate, "lower" | "upper">,
  say: (bound: number) => string = formatNumber,
): string {
  if (lower !== null && upper !== null) return `${say(lower)}–${say(upper)}`;
  if (lower !== null) return `${say(lower)} or more`;
  return upper !== null ? `at most ${say(upper)}` : "no bounds";
}

/** "185 h (149–229, 90 %)", "81 % (73.5–86.5, 90 %)", or why there is no number. */
export function estimateText(estimate: Estimate): string {
  if (estimate.unit !== "fraction" || estimate.value === null) return formatEstimate(estimate);
  if (estimate.sides === "lower")
    return `${percent(estimate.value)} (at least ${percent(estimate.lower ?? 0)}, ${formatConfidence(estimate.confidence)})`;
  return `${percent(estimate.value)} (${boundsText(estimate, formatPercent)}, ${formatConfidence(estimate.confidence)})`;
}

export const lowAge = (age: Age): number => (typeof age === "number" ? age : age[0]);
export const highAge = (age: Age): number => (typeof age === "number" ? age : age[1]);

/** "212 h", or "180–230 h" where hours were not written down. */
export const ageText = (age: Age): string => formatAge(age);

/** A coordinate with two decimals: stored figures compare as text on every machine. */
export const px = (value: number): number => Math.round(value * 100) / 100;
