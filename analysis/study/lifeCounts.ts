import type { Life } from "../lives/types.ts";
import type { LifeCounts } from "./types.ts";

/** What an estimate rests on, counted before any age is settled. */
export function countLives(lives: readonly Life[], noInformation: number, excluded: number): LifeCounts {
  const count = (kind: Life["kind"]) => lives.filter((life) => life.kind === kind).length;
  const [exact, interval, left, right] = [count("exact"), count("interval"), count("left"), count("right")];
  const closing = lives.flatMap((life) => {
    const last = life.looks.at(-1);
    return last && (life.closedBy === "look" || life.closedBy === "failure" || life.closedBy === "another mode")
      ? [life]
      : [];
  });
  const looks = lives.flatMap((life) => life.looks);
  return {
    lives: lives.length,
    serials: new Set(lives.map(({ serial }) => serial)).size,
    failures: exact + interval + left,
    exact,
    interval,
    left,
    right,
    leftTruncated: lives.filter(({ entry }) => entry > 0).length,
    noInformation,
    excluded,
    looks: closing.length,
    informativeLooks: closing.filter(({ informative }) => informative).length,
    soundByScope: looks.filter(({ found }) => found === "sound by scope").length,
  };
}
