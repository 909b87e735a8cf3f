import type { ProportionalHazardsFound, ProportionalHazardsInput } from "../types.ts";

export interface HazardConcordance {
  /** Share of comparable pairs in which the one judged the riskier failed first, equal risks counting half. Null: no pair. */
  readonly value: number | null;
  /** By the infinitesimal jackknife over rows, or over clusters where the fit has them. */
  readonly standardError: number | null;
  readonly pairs: number;
}

/**
 * How well the linear predictor orders the lives: a row that failed is compared with every row of its stratum still at risk then.
 *
 * Conventions  Rows that fail at the same age are not compared; a row censored at that age outlived it.
 * Accuracy     Exact; n log n.
 * Source       Harrell et al. (1982), J. Amer. Med. Assoc. 247, 2543-2546; Therneau & Atkinson (2020), concordance vignette of the
 *              R package survival, for the standard error.
 */
export function hazardConcordance(fit: ProportionalHazardsFound, input: ProportionalHazardsInput): HazardConcordance {
  const { rows, design, strata, clusters } = input;
  const k = design.names.length;
  const linear = Float64Array.from({ length: rows.n }, (_, i) =>
    fit.coefficients.reduce((sum, b, j) => sum + b * design.values[i * k + j]!, 0),
  );
  /** Of each row, over the pairs that it is in, its count included: agreement (1, 1/2, 0), and number. */
  const agreed = new Float64Array(rows.n);
  const pairs = new Float64Array(rows.n);
  const members = new Map<string, number[]>();
  for (let i = 0; i < rows.n; i++) {
    const name = strata?.[i] ?? "";
    const list = members.get(name);
    if (list) list.push(i);
    else members.set(name, [i]);
  }
  for (const list of members.values()) countPairs(input, linear, list, agreed, pairs);
  let total = 0;
  let sum = 0;
  for (let i = 0; i < rows.n; i++) {
    total += 0.5 * pairs[i]!;
    sum += 0.5 * agreed[i]!;
  }
  if (total === 0) return { value: null, standardError: null, pairs: 0 };
  const value = sum / total;
  let variance = 0;
  const influence = new Map<string, number>();
  for (let i = 0; i < rows.n; i++) {
    const own = (agreed[i]! - value * pairs[i]!) / total;
    // A count of c is c rows, each with its share of the influence.
    if (clusters) influence.set(clusters[i]!, (influence.get(clusters[i]!) ?? 0) + own);
    else variance += own ** 2 / rows.count[i]!;
  }
  for (const own of influence.values()) variance += own ** 2;
  return { value, standardError: Math.sqrt(variance), pairs: total };
}

function countPairs(
  { rows }: ProportionalHazardsInput,
  linear: Float64Array,
  list: readonly number[],
  agreed: Float64Array,
  pairs: Float64Array,
): void {
  const { start, stop, failed, count } = rows;
  const levels = Float64Array.from(new Set(list.map((i) => linear[i]!))).sort();
  const placeOf = new Map(Array.from(levels, (level, at) => [level, at + 1]));
  const place = (i: number): number => placeOf.get(linear[i]!)!;
  const tree = countTree(levels.length);
  const record = (i: number, weight: number, below: number, equal: number, all: number, agreesBelow: boolean): void => {
    pairs[i]! += weight * all;
    agreed[i]! += weight * ((agreesBelow ? below : all - below - equal) + 0.5 * equal);
  };
  const split = (i: number): { readonly below: number; readonly equal: number } => {
    const below = tree.upTo(place(i) - 1);
    return { below, equal: tree.upTo(place(i)) - below };
  };

  // From the last age down: who is at risk beyond each failure. Joined at their stop, left at their start.
  const byStop = [...list].sort((a, b) => stop[b]! - stop[a]!);
  const byStart = [...list].sort((a, b) => start[b]! - start[a]!);
  let gone = 0;
  for (let at = 0; at < byStop.length; ) {
    const age = stop[byStop[at]!]!;
    let end = at;
    for (; end < byStop.length && stop[byStop[end]!] === age; end++) {
      if (failed[byStop[end]!] === 0) tree.add(place(byStop[end]!), count[byStop[end]!]!);
    }
    for (; gone < byStart.length && start[byStart[gone]!]! >= age; gone++) {
      tree.add(place(byStart[gone]!), -count[byStart[gone]!]!);
    }
    for (let i = at; i < end; i++) {
      const one = byStop[i]!;
      if (failed[one] === 0) continue;
      const { below, equal } = split(one);
      record(one, count[one]!, below, equal, tree.total(), true);
    }
    for (; at < end; at++) if (failed[byStop[at]!] === 1) tree.add(place(byStop[at]!), count[byStop[at]!]!);
  }

  // From the first age up: the failures that each row outlived, those before its stop less those up to its start.
  tree.clear();
  const failures = [...list].filter((i) => failed[i] === 1).sort((a, b) => stop[a]! - stop[b]!);
  let counted = 0;
  const upTo = (age: number, isIncluded: boolean): void => {
    for (; counted < failures.length; counted++) {
      const one = failures[counted]!;
      if (!(stop[one]! < age || (isIncluded && stop[one] === age))) break;
      tree.add(place(one), count[one]!);
    }
  };
  const asks = list.flatMap((i) => [
    { i, age: stop[i]!, isIncluded: failed[i] === 0, sign: 1 },
    ...(start[i]! > 0 ? [{ i, age: start[i]!, isIncluded: true, sign: -1 }] : []),
  ]);
  asks.sort((a, b) => a.age - b.age || Number(a.isIncluded) - Number(b.isIncluded));
  for (const { i, age, isIncluded, sign } of asks) {
    upTo(age, isIncluded);
    const { below, equal } = split(i);
    record(i, sign * count[i]!, below, equal, tree.total(), false);
  }
}

/** Running counts over places 1..size (Fenwick 1994). */
function countTree(size: number) {
  const sums = new Float64Array(size + 1);
  let all = 0;
  return {
    add: (at: number, value: number): void => {
      all += value;
      for (let i = at; i <= size; i += i & -i) sums[i]! += value;
    },
    upTo: (at: number): number => {
      let sum = 0;
      for (let i = at; i > 0; i -= i & -i) sum += sums[i]!;
      return sum;
    },
    total: (): number => all,
    clear: (): void => {
      sums.fill(0);
      all = 0;
    },
  };
}
