import { formatNumber } from "./formatNumber.ts";

/**
 * A fraction in per cent, without its sign: three significant digits, but never "100" for less than all.
 *
 * Example  formatPercent(0.946) is "94.6", formatPercent(0.9997) "over 99.9", formatPercent(1) "100"
 */
export function formatPercent(share: number): string {
  const text = formatNumber(100 * share);
  return text === "100" && share < 1 ? "over 99.9" : text;
}
