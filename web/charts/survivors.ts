import type { LifeHistory } from "../../analysis/index.ts";
import { lowAge, whole } from "./text/numbers.ts";

/** Lives still good when last seen, marked above the survival curve. */
export interface Survivors {
  /** Each on its own where there is room for its mark. */
  readonly single: readonly LifeHistory[];
  /** Else counted: ticks as tall as the lives last seen within a few px. */
  readonly bins: readonly SurvivorBin[];
  readonly tallest: number;
}

export interface SurvivorBin {
  /** Middle of the bin in px. */
  readonly x: number;
  readonly from: number;
  readonly to: number;
  readonly lives: readonly LifeHistory[];
  /** Share of the strip's height, 0 to 1. */
  readonly height: number;
}

/** Width of a bin and, about, of an open disc with its arrow. */
const binWidth = 5;
const discWidth = 9;

/**
 * Discs while they mostly stand clear of each other, ticks by count from there on.
 *
 * @param x  Hours to px, with its inverse.
 */
export function survivorsOf(
  histories: readonly LifeHistory[],
  x: { (age: number): number; invert: (at: number) => number },
): Survivors {
  const survivors = histories.filter((life) => life.kind === "right");
  const places = survivors.map((life) => x(lowAge(life.lower))).sort((a, b) => a - b);
  const covered = places.filter((at, index) => index > 0 && at - (places[index - 1] ?? 0) < discWidth).length;
  if (survivors.length <= 25 || covered <= survivors.length / 3) return { single: survivors, bins: [], tallest: 1 };
  const byBin = new Map<number, LifeHistory[]>();
  for (const life of survivors) {
    const bin = Math.floor(x(lowAge(life.lower)) / binWidth);
    byBin.set(bin, [...(byBin.get(bin) ?? []), life]);
  }
  const tallest = Math.max(...[...byBin.values()].map((lives) => lives.length));
  const bins = [...byBin]
    .sort(([a], [b]) => a - b)
    .map(([bin, lives]): SurvivorBin => {
      const ages = lives.map((life) => lowAge(life.lower));
      const [from, to] = [Math.min(...ages), Math.max(...ages)];
      return { x: (bin + 0.5) * binWidth, from, to, lives, height: lives.length / tallest };
    });
  return { single: [], bins, tallest };
}

/** "12 still good when last seen at 205 to 210 h". */
export function binLabel({ from, to, lives }: SurvivorBin): string {
  const at = whole(from) === whole(to) ? `${whole(from)} h` : `${whole(from)} to ${whole(to)} h`;
  return `${lives.length} still good when last seen at ${at}`;
}
