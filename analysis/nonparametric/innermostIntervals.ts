import type { LifeSample } from "../estimation/types.ts";

/** A place where the estimate may put failures: (low, high], or the single age where low = high. */
export interface Cell {
  readonly low: number;
  readonly high: number;
}

/** What one distinct kind of life says about the cells, as ranges of indexes [from, to). */
export interface CellLife {
  readonly count: number;
  /** Survived these cells since it was first seen. */
  readonly survived: readonly [from: number, to: number];
  /** Failed in one of these; null where it had not failed when last seen. */
  readonly failedIn: readonly [from: number, to: number] | null;
}

export interface InnermostIntervals {
  /** Ascending; ends with an unbounded cell where lives are known to outlast the last finite one. */
  readonly cells: readonly Cell[];
  readonly lives: readonly CellLife[];
}

/** At one age: an exact failure opens, then intervals close, then intervals open. */
const opensExactly = 0;
const closes = 1;
const opensAfter = 2;

/**
 * The innermost intervals of interval-censored and left-truncated lives: an opening end followed at once by a closing
 * end. No other place can hold failures in a maximum-likelihood estimate.
 *   opening ends  where a life may have failed from: its lower end
 *   closing ends  where it must have failed by: its upper end; and every entry age, because failures before it cost
 *                 nothing to a life that is only seen from there on
 *
 * Conventions  Failed in (lower, upper]; exact failures are single ages; seen from just after entry on. Entry 0: seen
 *              from the start. Equal lives are merged and their counts added.
 * Source       Turnbull (1976), J. R. Statist. Soc. B 38, 290-295; the closing ends at entry ages: Frydman (1994),
 *              J. R. Statist. Soc. B 56, 71-74; Alioum & Commenges (1996), Biometrics 52, 512-524.
 */
export function innermostIntervals(sample: LifeSample): InnermostIntervals {
  const merged = mergeEqual(sample);
  const ends: { readonly age: number; readonly kind: number }[] = [];
  for (const { lower, upper, entry } of merged) {
    ends.push({ age: lower, kind: lower === upper ? opensExactly : opensAfter }, { age: upper, kind: closes });
    if (entry > 0) ends.push({ age: entry, kind: closes });
  }
  ends.sort(inOrder);

  const cells: Cell[] = [];
  const lows: End[] = [];
  ends.forEach((end, at) => {
    const next = ends[at + 1];
    if (end.kind === closes || next?.kind !== closes) return;
    cells.push({ low: end.age, high: next.age });
    lows.push(end);
  });

  /** Number of cells that open before `end`. */
  const openBefore = (end: End): number => firstWhere(cells.length, (k) => inOrder(lows[k] ?? end, end) >= 0);
  /** Number of cells that close at or before `age`. */
  const closedBy = (age: number): number => firstWhere(cells.length, (k) => (cells[k]?.high ?? 0) > age);

  const lives = merged.map(({ lower, upper, entry, count }): CellLife => {
    const exact = lower === upper;
    const seenFrom = entry > 0 ? closedBy(entry) : 0;
    const failedFrom = openBefore({ age: lower, kind: exact ? opensExactly : opensAfter });
    const failedTo = closedBy(upper);
    return {
      count,
      survived: [seenFrom, Math.max(seenFrom, failedFrom)],
      failedIn: upper === Number.POSITIVE_INFINITY ? null : [failedFrom, failedTo],
    };
  });
  return { cells, lives };
}

interface End {
  readonly age: number;
  readonly kind: number;
}

function inOrder(a: End, b: End): number {
  return a.age === b.age ? a.kind - b.kind : a.age - b.age;
}

function firstWhere(length: number, holds: (k: number) => boolean): number {
  let from = 0;
  let to = length;
  while (from < to) {
    const middle = (from + to) >> 1;
    if (holds(middle)) to = middle;
    else from = middle + 1;
  }
  return from;
}

function mergeEqual(sample: LifeSample): { lower: number; upper: number; entry: number; count: number }[] {
  const merged = new Map<string, { lower: number; upper: number; entry: number; count: number }>();
  for (let i = 0; i < sample.n; i += 1) {
    const life = {
      lower: sample.lower[i] ?? 0,
      upper: sample.upper[i] ?? 0,
      entry: sample.entry[i] ?? 0,
      count: sample.count[i] ?? 0,
    };
    const key = `${life.lower} ${life.upper} ${life.entry}`;
    const known = merged.get(key);
    if (known === undefined) merged.set(key, life);
    else known.count += life.count;
  }
  return [...merged.values()];
}
