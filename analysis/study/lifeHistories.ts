import type { Life } from "../lives/types.ts";
import type { LifeHistory } from "./types.ts";

/** A page draws up to this many histories; all lives stay in the counts and the fit. */
const MOST_HISTORIES = 2_000;

/** Lives in a row, the longest first, each with the failure it led to where that came. */
export function lifeHistories(lives: readonly Life[], ledTo: readonly Life[]): readonly LifeHistory[] {
  const placeOf = ({ serial, item, since }: Life) => `${serial}\u0000${item}\u0000${since}`;
  const failures = new Map(ledTo.filter(({ kind }) => kind !== "right").map((life) => [placeOf(life), life]));
  return [...lives]
    .sort((a, b) => endOf(b) - endOf(a) || (a.id < b.id ? -1 : 1))
    .slice(0, MOST_HISTORIES)
    .map((life): LifeHistory => {
      const { id, serial, since, sinceOn, kind, lower, upper, entry, informative, looks, runs } = life;
      const failure = failures.get(placeOf(life));
      return {
        lifeId: id,
        serial,
        since,
        sinceOn,
        kind,
        lower,
        upper,
        entry,
        informative,
        looks,
        runs,
        ...(failure && {
          ledTo: { mode: failure.mode, kind: failure.kind, lower: failure.lower, upper: failure.upper },
        }),
      };
    });
}

/** The last age that a life says anything about. */
const endOf = ({ lower, upper }: Life): number => {
  const age = upper ?? lower;
  return typeof age === "number" ? age : age[1];
};
