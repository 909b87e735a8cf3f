import type { LifeSample } from "./types.ts";

/**
 * Log likelihood that is approached as the shape of a Weibull law grows without bound: all mass at one age, the best one.
 * Where ages are known only as ranges it can exceed every maximum at a finite shape.
 *
 * @returns   -Infinity where no age agrees with every life; Infinity where failures at one known age do.
 * Accuracy   The best age is sought on 16 points between neighbouring ends, so the answer may be low by a few thousandths.
 */
export function stepLimit(sample: LifeSample): number {
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  let knownFailure: number | null = null;
  const ends = new Set<number>();
  for (let row = 0; row < sample.n; row++) {
    low = Math.max(low, sample.lower[row]!);
    high = Math.min(high, sample.upperHigh[row]!);
    for (const column of [sample.lower, sample.lowerHigh, sample.upper, sample.upperHigh]) ends.add(column[row]!);
    if (isExact(sample, row) && sample.lower[row] === sample.lowerHigh[row]) knownFailure = sample.lower[row]!;
  }
  if (low > high) return Number.NEGATIVE_INFINITY;
  if (knownFailure !== null) {
    return Number.isFinite(atAge(sample, knownFailure)) ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY;
  }
  const top = Number.isFinite(high) ? high : Math.max(low, ...[...ends].filter(Number.isFinite)) + 1;
  const breaks = [low, ...[...ends].filter((end) => end > low && end < top), top].sort((a, b) => a - b);
  let best = Number.NEGATIVE_INFINITY;
  for (let i = 1; i < breaks.length; i++) {
    const from = breaks[i - 1]!;
    const gap = breaks[i]! - from;
    for (let k = 0; k < 16; k++) best = Math.max(best, atAge(sample, from + ((k + 0.5) / 16) * gap));
  }
  return best;
}

/** Log likelihood with all mass at one age; failures known to that very age are left out. */
function atAge(sample: LifeSample, age: number): number {
  let sum = 0;
  for (let row = 0; row < sample.n; row++) {
    const lower = sample.lower[row]!;
    const lowerHigh = sample.lowerHigh[row]!;
    if (isExact(sample, row)) {
      if (age < lower || age > lowerHigh) return Number.NEGATIVE_INFINITY;
      if (lowerHigh > lower) sum -= sample.count[row]! * Math.log(lowerHigh - lower);
    } else {
      const probability =
        fractionBelow(lower, lowerHigh, age) - fractionBelow(sample.upper[row]!, sample.upperHigh[row]!, age);
      if (probability <= 0) return Number.NEGATIVE_INFINITY;
      sum += sample.count[row]! * Math.log(probability);
    }
  }
  return sum;
}

function fractionBelow(low: number, high: number, age: number): number {
  if (age >= high) return 1;
  return age <= low ? 0 : (age - low) / (high - low);
}

function isExact(sample: LifeSample, row: number): boolean {
  return sample.lower[row] === sample.upper[row] && sample.lowerHigh[row] === sample.upperHigh[row];
}
