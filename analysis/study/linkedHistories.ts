import type { LinkedHistory } from "../estimation/linked/types.ts";
import type { Life } from "../lives/types.ts";
import { type SettledLife, settleAges } from "./settleAges.ts";
import type { ShopData } from "./shopData.ts";
import type { StudyDefinition } from "./types.ts";

export interface LinkedHistories {
  readonly histories: readonly LinkedHistory[];
  /** The life behind each history: of the defect, or of the failure where nothing is known of the defect. */
  readonly lives: readonly Life[];
  /** Failures of items that were looked at and did not have the defect: another cause, so they end the follow-up. */
  readonly withoutDefect: number;
}

/** As `joinHistories`, of lives as they were derived. */
export function linkedHistories(
  defects: readonly Life[],
  failures: readonly Life[],
  data: ShopData,
  missingHours: StudyDefinition["missingHours"],
): LinkedHistories {
  const settle = (lives: readonly Life[]) => settleAges(lives, missingHours, data.hoursPerDay);
  return joinHistories(settle(defects), settle(failures));
}

/** The restoration that a life is of. */
export const restorationOf = ({ serial, item, since }: Life): string => `${serial}\u0000${item}\u0000${since}`;

/**
 * Puts what is known of a defect and of the failure it leads to together, restoration by restoration. A restoration of
 * which only one mode tells something counts with that; a failure puts its defect before it.
 */
export function joinHistories(defects: readonly SettledLife[], failures: readonly SettledLife[]): LinkedHistories {
  const byPlace = new Map<string, { defect: SettledLife | null; failure: SettledLife | null }>();
  for (const defect of defects) byPlace.set(restorationOf(defect.life), { defect, failure: null });
  for (const failure of failures) {
    const place = restorationOf(failure.life);
    byPlace.set(place, { defect: byPlace.get(place)?.defect ?? null, failure });
  }

  let withoutDefect = 0;
  const lives: Life[] = [];
  const histories = [...byPlace.values()].flatMap(({ defect, failure }): LinkedHistory[] => {
    // Came in mid-life and nobody knows whether the defect was there already: its failure tells nothing of this defect.
    if (defect === null && failure !== null && failure.entry > 0) return [];
    const life = (defect ?? failure)?.life;
    if (life === undefined) return [];
    lives.push(life);
    const entry = Math.max(defect?.entry ?? 0, failure?.entry ?? 0);
    const own = endsOf(defect) ?? { from: entry, to: null };
    const led = endsOf(failure) ?? { from: entry, to: null };
    if (led.to === null) return [{ defect: own, failure: led, entry }];
    if (led.to <= own.from) {
      withoutDefect += 1;
      return [{ defect: { from: own.from, to: null }, failure: { from: led.from, to: null }, entry }];
    }
    return [{ defect: { from: own.from, to: Math.min(own.to ?? led.to, led.to) }, failure: led, entry }];
  });
  return { histories, lives, withoutDefect };
}

/** The ends of a settled life; an age that stayed a range is taken at its low end for a survivor, else in the middle. */
function endsOf(settled: SettledLife | null): { from: number; to: number | null } | null {
  if (settled === null) return null;
  const { life, lower, lowerHigh, upper, upperHigh } = settled;
  if (upper === null) return { from: lower, to: null };
  const to = (upper + (upperHigh ?? upper)) / 2;
  return { from: life.kind === "exact" && lower === upper ? to : Math.min((lower + lowerHigh) / 2, to), to };
}
