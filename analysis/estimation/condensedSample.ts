import type { LifeSample } from "./types.ts";

/** Above this many lives a search looks for its start among condensed ones. */
export const MANY_LIVES = 1_000;

/** Share of the lives on its nearer side that a group takes in: single at the ends, wider in the middle. */
const WIDENING = 0.1;
/** Lives between looks are told apart by both ends: so many groups by the lower one, each parted so often by the upper. */
const GROUPS_EACH_WAY = 10;

const columns = ["lower", "lowerHigh", "upper", "upperHigh", "entry"] as const;

/**
 * A few hundred lives that stand for very many: neighbours of one kind are taken together at their mean ages, with their counts added.
 * The first and the last lives stay single, for sharp-ended laws hang on them. Good for starts and for the lie of a surface, never for an
 * answer.
 *
 * @param sample  Any lives, n >= 1.
 * @returns       Lives without ids. The order is by kind, then by age.
 */
export function condensedSample(sample: LifeSample): LifeSample {
  const byKind = new Map<number, number[]>();
  for (let row = 0; row < sample.n; row++) {
    const kind = kindOf(sample, row);
    const rows = byKind.get(kind);
    if (rows) rows.push(row);
    else byKind.set(kind, [row]);
  }
  const groups = [...byKind.values()].flatMap((rows) => {
    switch (endingOf(sample, rows[0]!)) {
      case BETWEEN:
        return byBothEnds(sample, rows);
      case AT_FIRST_LOOK:
        return finerAtTheEnds(sortedBy(sample.upper, rows));
      default:
        return finerAtTheEnds(sortedBy(sample.lower, rows));
    }
  });

  const n = groups.length;
  const count = Float64Array.from(groups, (rows) => rows.reduce((sum, row) => sum + sample.count[row]!, 0));
  const meanOf = (name: (typeof columns)[number]): Float64Array =>
    Float64Array.from(groups, (rows, group) => {
      const first = sample[name][rows[0]!]!;
      if (rows.length === 1 || first === Number.POSITIVE_INFINITY) return first;
      return rows.reduce((sum, row) => sum + (sample.count[row]! / count[group]!) * sample[name][row]!, 0);
    });
  const [lower, lowerHigh, upper, upperHigh, entry] = columns.map(meanOf) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  return { unit: sample.unit, n, lower, lowerHigh, upper, upperHigh, entry, count, ids: null };
}

const KNOWN = 0;
const NOT_YET = 1;
const AT_FIRST_LOOK = 2;
const BETWEEN = 3;

function endingOf(sample: LifeSample, row: number): number {
  if (sample.lower[row] === sample.upper[row]) return KNOWN;
  if (sample.upper[row] === Number.POSITIVE_INFINITY) return NOT_YET;
  return sample.lower[row] === 0 ? AT_FIRST_LOOK : BETWEEN;
}

/** Lives of one kind keep it when their ages are averaged. */
function kindOf(sample: LifeSample, row: number): number {
  const lower = sample.lower[row]!;
  const upper = sample.upper[row]!;
  const isRanged = lower !== sample.lowerHigh[row] || upper !== sample.upperHigh[row];
  return endingOf(sample, row) + (isRanged ? 4 : 0) + (sample.entry[row]! > 0 ? 8 : 0);
}

const sortedBy = (column: Float64Array, rows: readonly number[]): number[] =>
  [...rows].sort((a, b) => column[a]! - column[b]! || a - b);

function finerAtTheEnds(rows: readonly number[]): number[][] {
  const groups: number[][] = [];
  for (let from = 0; from < rows.length; ) {
    const nearest = Math.min(from, rows.length - 1 - from);
    const size = Math.max(1, Math.floor(WIDENING * nearest));
    groups.push(rows.slice(from, from + size));
    from += size;
  }
  return groups;
}

function byBothEnds(sample: LifeSample, rows: readonly number[]): number[][] {
  return evenly(sortedBy(sample.lower, rows)).flatMap((some) => evenly(sortedBy(sample.upper, some)));
}

function evenly(rows: readonly number[]): number[][] {
  const size = Math.max(1, Math.ceil(rows.length / GROUPS_EACH_WAY));
  return Array.from({ length: Math.ceil(rows.length / size) }, (_, i) => rows.slice(i * size, (i + 1) * size));
}
