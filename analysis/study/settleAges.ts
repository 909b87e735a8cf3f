import { lifeSample } from "../estimation/lifeSample.ts";
import type { LifeSample } from "../estimation/types.ts";
import { highOf, lowOf } from "../lives/age.ts";
import type { Age, Life } from "../lives/types.ts";
import type { StudyDefinition } from "./types.ts";

type MissingHours = StudyDefinition["missingHours"];

/** Ends of a life as the fit takes them. `lowerHigh`/`upperHigh` differ where an age stays a range. */
export interface SettledLife {
  readonly life: Life;
  readonly lower: number;
  readonly lowerHigh: number;
  readonly upper: number | null;
  readonly upperHigh: number | null;
  readonly entry: number;
}

/** An exact failure is written to a tenth of an hour at best; one at age 0 happened within this. Common practice, no source. */
const SHORTEST_AGE = 0.1;

/**
 * Settles ages that are ranges. Hours that were not written down become what the study says: the shop's hours per day
 * out, all low, all high, averaged over the range by the fit, or the life is left out. The rule is the same for failures
 * and survivors. An age at which another mode ended the life unseen stays a range: nobody's missing hours made it one.
 *
 * @param hoursPerDay  The shop's operating hours per day out, 0 to 24; null reads as 12, the middle.
 */
export function settleAges(
  lives: readonly Life[],
  missingHours: MissingHours,
  hoursPerDay: number | null,
): SettledLife[] {
  const share = settledShare(missingHours, hoursPerDay);
  return lives.flatMap((life): SettledLife[] => {
    if (missingHours === "left out" && life.rangeBecause === "hours missing") return [];
    const endedUnseen = life.rangeBecause === "ended by another mode";
    const settle = (age: Age): readonly [number, number] => {
      const [low, high] = [lowOf(age), highOf(age)];
      if (endedUnseen || missingHours === "averaged") return [low, high];
      const settled = low + share * (high - low);
      return [settled, settled];
    };
    const [low, lowHigh] = settle(life.lower);
    const { entry } = life;
    if (life.kind === "exact") {
      if (lowHigh < SHORTEST_AGE)
        return [
          { life, lower: entry, lowerHigh: entry, upper: entry + SHORTEST_AGE, upperHigh: entry + SHORTEST_AGE, entry },
        ];
      return [{ life, lower: low, lowerHigh: lowHigh, upper: low, upperHigh: lowHigh, entry }];
    }
    if (life.upper === null) return [{ life, lower: low, lowerHigh: lowHigh, upper: null, upperHigh: null, entry }];
    const [up, upHigh] = settle(life.upper);
    const floor = Math.max(low, entry);
    const least = Math.max(up, floor + SHORTEST_AGE);
    return [
      {
        life,
        lower: floor,
        lowerHigh: Math.max(lowHigh, floor),
        upper: least,
        upperHigh: Math.max(upHigh, least),
        entry,
      },
    ];
  });
}

/** Where between its ends an age is settled: 0 at the low one. */
export const settledShare = (missingHours: MissingHours, hoursPerDay: number | null): number =>
  missingHours === "all low" ? 0 : missingHours === "all high" ? 1 : Math.min(1, Math.max(0, (hoursPerDay ?? 12) / 24));

/** Settled lives as columns for the fit. Errors "no-lives" for none. */
export function sampleOf(settled: readonly SettledLife[]): LifeSample {
  return lifeSample({
    unit: "h",
    lives: settled.map(({ life, lower, lowerHigh, upper, upperHigh, entry }) => ({
      id: life.id,
      lower,
      lowerHigh,
      upper,
      upperHigh,
      entry,
    })),
  });
}

/** One age where a single number is needed (charts of exposure, sums of hours). */
export function settledAge(age: Age, hoursPerDay: number | null): number {
  const share = settledShare("shop rate", hoursPerDay);
  return lowOf(age) + share * (highOf(age) - lowOf(age));
}
