import type { LifeSample } from "../types.ts";
import type { AgeLaw } from "./simulateLives.ts";

const HALF_WIDTH = 14;
const STEP = 0.0625;
/** Places v in (0, 1), even in log(v / (1 - v)), where dv / (v (1 - v)) is even too. */
const PLACES = Float64Array.from(
  { length: 2 * (HALF_WIDTH / STEP) + 1 },
  (_, i) => 1 / (1 + Math.exp(HALF_WIDTH - STEP * i)),
);

/**
 * Distance between lives of any kind and a law: with V = F(T), uniform if the law is right,
 *
 *   d(v) = sum_i c_i [P(V <= v | what was seen of life i) - P(V <= v | V > v(entry_i))] / N
 *   A    = N * integral of d(v)^2 / (v (1 - v)) dv
 *
 * If the law is right d(v) has mean 0 at every v, whatever the censoring, looks and truncation, as long as these do not
 * depend on the age at failure. With exact lives only A is the Anderson-Darling statistic.
 *
 * Conventions  Ages in ranges enter at their middle; an exact age in a range as uniform over it.
 * Accuracy     Integrated on 449 places even in log(v / (1 - v)) between -14 and 14; with a few exact lives within 2 %, the
 *              same in data and simulation.
 * Source       Own construction from Anderson & Darling (1954), J. Amer. Statist. Assoc. 49, 765-769, and one step of the
 *              self-consistency of Efron (1967), Turnbull (1976).
 */
export function selfConsistentDistance(sample: LifeSample, law: AgeLaw): number {
  const places = PLACES.length;
  const seen = new Float64Array(places);
  let total = 0;
  for (let row = 0; row < sample.n; row++) {
    const count = sample.count[row]!;
    const lower = sample.lower[row]!;
    const upper = sample.upper[row]!;
    const isExact = lower === upper && sample.lowerHigh[row] === sample.upperHigh[row];
    const start = sample.entry[row]! > 0 ? law.failedFraction(sample.entry[row]!) : 0;
    const from = law.failedFraction(isExact ? lower : 0.5 * (lower + sample.lowerHigh[row]!));
    const to =
      upper === Number.POSITIVE_INFINITY
        ? 1
        : law.failedFraction(isExact ? sample.upperHigh[row]! : 0.5 * (upper + sample.upperHigh[row]!));
    total += count;
    const width = to - from;
    const left = 1 - start;
    for (let i = 0; i < places; i++) {
      const v = PLACES[i]!;
      const observed = v >= to ? 1 : v <= from ? 0 : width > 0 ? (v - from) / width : 1;
      const expected = v <= start ? 0 : left > 0 ? (v - start) / left : 1;
      seen[i]! += count * (observed - expected);
    }
  }
  let sum = 0;
  for (let i = 0; i < places; i++) sum += seen[i]! * seen[i]!;
  return (STEP * sum) / total;
}
