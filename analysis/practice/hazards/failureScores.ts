import type { HazardRows } from "../types.ts";

/** A scale of age on which a change of effect is looked for. */
export type TimeScale = "product-limit" | "age" | "rank" | "log age";

/**
 * The score g of each failure age.
 *   product-limit  1 - S(t-), all strata together
 *   rank           mean rank of the age among all ages at which rows end
 *
 * Conventions  Centred on the mean over failures, which changes no test and keeps digits.
 */
export function failureScores(rows: HazardRows, scale: TimeScale): (age: number) => number {
  const { n, start, stop, failed, count } = rows;
  const deaths = new Map<number, number>();
  for (let i = 0; i < n; i++) if (failed[i] === 1) deaths.set(stop[i]!, (deaths.get(stop[i]!) ?? 0) + count[i]!);
  const ages = [...deaths.keys()].sort((a, b) => a - b);
  const scores = new Map<number, number>();
  if (scale === "product-limit") {
    const begun = runningCounts(start, count);
    const ended = runningCounts(stop, count);
    let survival = 1;
    for (const age of ages) {
      scores.set(age, 1 - survival);
      survival *= 1 - deaths.get(age)! / (begun(age) - ended(age));
    }
  } else if (scale === "rank") {
    const ended = runningCounts(stop, count);
    for (const age of ages) scores.set(age, 0.5 * (ended(age) + ended(age, true) + 1));
  } else for (const age of ages) scores.set(age, scale === "age" ? age : Math.log(age));

  let total = 0;
  let sum = 0;
  for (const age of ages) {
    total += deaths.get(age)!;
    sum += deaths.get(age)! * scores.get(age)!;
  }
  const mean = sum / total;
  return (age) => (scores.get(age) ?? 0) - mean;
}

/** Sum of counts of values below an age, or up to and including it. */
function runningCounts(values: Float64Array, count: Float64Array): (age: number, isIncluded?: boolean) => number {
  const order = Uint32Array.from({ length: values.length }, (_, i) => i).sort((a, b) => values[a]! - values[b]!);
  const sorted = Float64Array.from(order, (i) => values[i]!);
  const sums = new Float64Array(order.length + 1);
  order.forEach((i, at) => {
    sums[at + 1] = sums[at]! + count[i]!;
  });
  return (age, isIncluded = false) => {
    let low = 0;
    let high = sorted.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (sorted[middle]! < age || (isIncluded && sorted[middle] === age)) low = middle + 1;
      else high = middle;
    }
    return sums[low]!;
  };
}
