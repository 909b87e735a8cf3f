import { formatNumber } from "./formatNumber.ts";

/** More decimals than these say nothing of a share. */
const MOST_PLACES = 4;

/**
 * A fraction in per cent, without its sign: three significant digits, but never "100" for less than all.
 *
 * Conventions  Just below all it is cut, not rounded, at the fourth decimal.
 * Example      formatPercent(0.946) is "94.6", formatPercent(0.9997) "99.97", formatPercent(1) "100"
 */
export function formatPercent(share: number): string {
  const percent = 100 * share;
  const text = formatNumber(percent);
  if (text !== "100" || share >= 1) return text;
  const places = Math.ceil(-Math.log10(100 - percent));
  if (places > MOST_PLACES) return (100 - 10 ** -MOST_PLACES).toFixed(MOST_PLACES);
  return percent.toFixed(Math.max(1, places));
}
