/** Quantile of values in any order, between order statistics linearly (Hyndman & Fan 1996, type 7). NaN for none. */
export function quantileOf(values: ArrayLike<number>, share: number): number {
  const ordered = Float64Array.from(values).sort();
  const place = share * (ordered.length - 1);
  const low = Math.floor(place);
  const [a, b] = [ordered[low] ?? Number.NaN, ordered[Math.min(low + 1, ordered.length - 1)] ?? Number.NaN];
  return a === b ? a : a + (place - low) * (b - a);
}
