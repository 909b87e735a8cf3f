/**
 * A stable order of positions by whole keys, 0 <= key < buckets: equal keys stay in the order of `before`.
 * Orders by several keys are made from the least important one up.
 */
export function countingOrder(keys: Uint32Array, buckets: number, before: Uint32Array): Uint32Array {
  const first = new Uint32Array(buckets + 1);
  for (const i of before) first[keys[i]! + 1]! += 1;
  for (let b = 0; b < buckets; b++) first[b + 1]! += first[b]!;
  const order = new Uint32Array(before.length);
  for (const i of before) order[first[keys[i]!]!++] = i;
  return order;
}

/** Rank of each value among the different ones, the largest first: 0 for the largest. */
export function descendingRanks(values: Float64Array): { readonly ranks: Uint32Array; readonly different: number } {
  const sorted = Float64Array.from(values).sort();
  let different = 0;
  for (let i = 0; i < sorted.length; i++) {
    if (i === 0 || sorted[i] !== sorted[i - 1]) sorted[different++] = sorted[i]!;
  }
  const ranks = new Uint32Array(values.length);
  for (let i = 0; i < values.length; i++) {
    let low = 0;
    let high = different - 1;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (sorted[middle]! < values[i]!) low = middle + 1;
      else high = middle;
    }
    ranks[i] = different - 1 - low;
  }
  return { ranks, different };
}
