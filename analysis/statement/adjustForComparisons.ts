/**
 * p-values that allow for how many comparisons were made: the smallest times their number, the next times one fewer, and
 * so on, never falling.
 * Source  Holm (1979), Scandinavian J. Statistics 6, 65-70.
 */
export function adjustForComparisons(pValues: readonly number[]): readonly number[] {
  const order = pValues.map((_, index) => index).sort((a, b) => pValues[a]! - pValues[b]!);
  const adjusted = new Array<number>(pValues.length).fill(1);
  let least = 0;
  order.forEach((index, place) => {
    least = Math.max(least, Math.min(1, (pValues.length - place) * pValues[index]!));
    adjusted[index] = least;
  });
  return adjusted;
}
