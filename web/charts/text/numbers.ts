/** Numbers as they stand on a chart: three significant digits, thousands set apart, absent bounds in words. */
import { format } from "d3-format";
import type { Age, Estimate } from "../../../analysis/index.ts";

const grouped = format(",");

/** Three significant digits: 1,240; 185; 0.58. */
export function threeDigits(value: number): string {
  if (value === 0) return "0";
  const digits = Math.max(0, 2 - Math.floor(Math.log10(Math.abs(value))));
  const factor = 10 ** Math.max(-12, Math.floor(Math.log10(Math.abs(value))) - 2);
  return grouped(Number((Math.round(value / factor) * factor).toFixed(digits)));
}

export const whole = format(",.0f");

export const percent = (fraction: number): string => `${threeDigits(100 * fraction)} %`;

/** "149-229", "149 or more", "up to 229". `scale` 100 turns fractions into per cent. */
export function boundsText({ lower, upper }: Pick<Estimate, "lower" | "upper">, scale = 1): string {
  if (lower !== null && upper !== null) return `${threeDigits(scale * lower)}-${threeDigits(scale * upper)}`;
  if (lower !== null) return `${threeDigits(scale * lower)} or more`;
  return upper !== null ? `up to ${threeDigits(scale * upper)}` : "unbounded";
}

/** "185 h (149-229, 90 %)", or why there is no number. */
export function estimateText(estimate: Estimate): string {
  if (estimate.value === null) return estimate.why ?? "not known";
  const fraction = estimate.unit === "fraction";
  const unit = fraction ? " %" : estimate.unit === "none" ? "" : ` ${estimate.unit}`;
  const value = threeDigits((fraction ? 100 : 1) * estimate.value);
  const level = `${threeDigits(100 * estimate.confidence)} %`;
  return `${value}${unit} (${boundsText(estimate, fraction ? 100 : 1)}, ${level})`;
}

export const lowAge = (age: Age): number => (typeof age === "number" ? age : age[0]);
export const highAge = (age: Age): number => (typeof age === "number" ? age : age[1]);

/** "212 h", or "between 180 and 230 h" where hours were not written down. */
export const ageText = (age: Age): string =>
  typeof age === "number" ? `${threeDigits(age)} h` : `between ${threeDigits(age[0])} and ${threeDigits(age[1])} h`;

/** A coordinate with two decimals: stored figures compare as text on every machine. */
export const px = (value: number): number => Math.round(value * 100) / 100;
