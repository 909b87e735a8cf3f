const GRID = 72;

/** Ages from 0 to a quarter beyond experience, so that the page can show where the line leaves it. */
export function gridOfAges(median: number, longest: number): number[] {
  const last = Math.max(longest * 1.25, Math.min(median * 1.1, longest * 2));
  return Array.from({ length: GRID }, (_, index) => (last * index) / (GRID - 1));
}
