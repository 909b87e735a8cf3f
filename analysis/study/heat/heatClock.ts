import { highOf, lowOf } from "../../lives/age.ts";
import type { RunMark } from "../../lives/types.ts";
import type { SettledLife } from "../settleAges.ts";
import type { HeatRate } from "./wellHeat.ts";

/** One age after the other, in hours, to hours at the reference temperature. */
export interface HeatClock {
  readonly hoursAt: (age: number) => number;
  /** How fast hours count at that age; in the run that ends there where two meet. */
  readonly rateAt: (age: number) => number;
}

/** Runs of a life on its operating clock, in order. */
export type ClockedRuns = readonly Pick<RunMark, "row" | "from" | "to">[];

/**
 * The heat clock of one life: every run's hours count by its highest temperature. Hours of no run (before the records
 * begin, after the last run) and of runs without a temperature count as usual ones.
 *
 * @param celsiusOf  Of a run by its key; null where none is written.
 * @param share      Where between its ends an age is settled that is a range.
 */
export function heatClock(
  runs: ClockedRuns,
  celsiusOf: (key: string) => number | null,
  rate: HeatRate,
  share: number,
): HeatClock {
  const settled = (age: RunMark["from"]): number => lowOf(age) + share * (highOf(age) - lowOf(age));
  const ends: number[] = [];
  const rates: number[] = [];
  /** Hours at the reference at the end of each stretch. */
  const sums: number[] = [];
  let [at, sum] = [0, 0];
  const lay = (to: number, factor: number): void => {
    if (!(to > at)) return;
    sum += (to - at) * factor;
    at = to;
    ends.push(to);
    rates.push(factor);
    sums.push(sum);
  };
  for (const { row, from, to } of runs) {
    const celsius = celsiusOf(row.key);
    lay(settled(from), rate.usual);
    lay(settled(to), celsius === null ? rate.usual : rate.at(celsius));
  }
  const placeOf = (age: number): number => {
    const found = ends.findIndex((end) => end >= age);
    return found < 0 ? ends.length : found;
  };
  return {
    hoursAt: (age) => {
      const place = placeOf(age);
      return (sums[place - 1] ?? 0) + (age - (ends[place - 1] ?? 0)) * (rates[place] ?? rate.usual);
    },
    rateAt: (age) => rates[placeOf(age)] ?? rate.usual,
  };
}

/** A settled life with every age on its heat clock. */
export function onHeatClock(settled: SettledLife, { hoursAt }: HeatClock): SettledLife {
  const { lower, lowerHigh, upper, upperHigh, entry } = settled;
  return {
    ...settled,
    lower: hoursAt(lower),
    lowerHigh: hoursAt(lowerHigh),
    upper: upper === null ? null : hoursAt(upper),
    upperHigh: upperHigh === null ? null : hoursAt(upperHigh),
    entry: hoursAt(entry),
  };
}
