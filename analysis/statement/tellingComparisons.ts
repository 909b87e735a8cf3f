import type { BeforeAfter, Comparison } from "./types.ts";

/**
 * The comparisons worth a picture: those with failures enough to tell, all where none has. The others stand in the table.
 *
 * @param most  Only so many: the first, then differences that are shown, then those with the most failures; in their order.
 */
export function tellingComparisons(
  { comparisons }: BeforeAfter,
  most = Number.POSITIVE_INFINITY,
): readonly Comparison[] {
  const telling = comparisons.filter(({ verdict }) => verdict !== "too little to tell");
  const worth = telling.length === 0 ? comparisons : telling;
  const rank = (one: Comparison): number =>
    one === worth[0] ? 0 : one.verdict === "fewer" || one.verdict === "more" ? 1 : 2;
  const failures = ({ before, after }: Comparison): number => before.failures + after.failures;
  const kept = new Set(
    [...worth].sort((a, b) => rank(a) - rank(b) || failures(b) - failures(a)).filter((_one, index) => index < most),
  );
  return worth.filter((one) => kept.has(one));
}
