import { median } from "simple-statistics";

/**
 * A straight line that outliers do not bend: slope from the medians of the lowest and the highest third, level from the
 * median of what is left over.
 *
 * @param points  Pairs (x, y), any order, at least three.
 * @returns       The line as a function of x; level where all x of the outer thirds are the same.
 * Source         Tukey (1977), Exploratory Data Analysis, chapter 5, the resistant line, first step (from memory).
 */
export function medianLine(points: readonly (readonly [x: number, y: number])[]): (x: number) => number {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const third = Math.max(1, Math.floor(sorted.length / 3));
  const middleOf = (part: readonly (readonly [number, number])[], axis: 0 | 1) =>
    median(part.map((point) => point[axis]));
  const low = sorted.slice(0, third);
  const high = sorted.slice(-third);
  const run = middleOf(high, 0) - middleOf(low, 0);
  const slope = run === 0 ? 0 : (middleOf(high, 1) - middleOf(low, 1)) / run;
  const level = median(sorted.map(([x, y]) => y - slope * x));
  return (x) => level + slope * x;
}
