import { countingOrder, descendingRanks } from "../common/countingOrder.ts";
import type { StandardDesign } from "../common/standardiseDesign.ts";
import type { HazardRows, Ties } from "../types.ts";

/** Rows in the order in which risk sets are built: by stratum, within it from the largest stop down. */
export interface OrderedRows {
  readonly columns: number;
  readonly ties: Ties;
  /** Position to row as given. */
  readonly row: Uint32Array;
  readonly stop: Float64Array;
  readonly start: Float64Array;
  readonly failed: Uint8Array;
  readonly count: Float64Array;
  /** Standardised columns, position by position. */
  readonly x: Float64Array;
  /** First position of each stratum, and the number of rows at the end. */
  readonly strata: Uint32Array;
  /** Names of the strata in that order. */
  readonly names: readonly string[];
  /** Positions with start > 0 in each stratum, from the largest start down; bounds as `strata`. */
  readonly leaving: Uint32Array;
  readonly leavingStrata: Uint32Array;
}

export function orderRows(
  rows: HazardRows,
  design: StandardDesign,
  ties: Ties,
  strata: readonly string[] | undefined,
): OrderedRows {
  const { n } = rows;
  const { columns: k, values } = design;
  const names = strata ? [...new Set(strata)].sort() : [""];
  const codes = new Map(names.map((name, code) => [name, code]));
  const code = Uint32Array.from({ length: n }, (_, i) => (strata ? codes.get(strata[i]!)! : 0));
  // Failures of one age together; the order as given decides the rest, so that equal input gives equal output.
  const { ranks, different } = descendingRanks(rows.stop);
  const byAge = ranks.map((rank, i) => 2 * rank + 1 - rows.failed[i]!);
  const asGiven = Uint32Array.from({ length: n }, (_, i) => i);
  const row = countingOrder(code, names.length, countingOrder(byAge, 2 * different, asGiven));
  const pick = (column: Float64Array): Float64Array => Float64Array.from(row, (i) => column[i]!);
  const x = new Float64Array(n * k);
  row.forEach((i, at) => {
    for (let j = 0; j < k; j++) x[at * k + j] = values[i * k + j]!;
  });
  const start = pick(rows.start);
  const codeAt = Uint32Array.from(row, (i) => code[i]!);
  const { ranks: startRanks, different: starts } = descendingRanks(start);
  const late = asGiven.filter((at) => start[at]! > 0);
  const leaving = countingOrder(codeAt, names.length, countingOrder(startRanks, starts, late));
  const bounds = (positions: Uint32Array): Uint32Array => {
    const firsts = new Uint32Array(names.length + 1);
    for (const at of positions) firsts[codeAt[at]! + 1]! += 1;
    for (let s = 0; s < names.length; s++) firsts[s + 1]! += firsts[s]!;
    return firsts;
  };
  return {
    columns: k,
    ties,
    row,
    stop: pick(rows.stop),
    start,
    failed: Uint8Array.from(row, (i) => rows.failed[i]!),
    count: pick(rows.count),
    x,
    strata: bounds(asGiven),
    names,
    leaving,
    leavingStrata: bounds(leaving),
  };
}

/** Who is at risk at a failure age, as weighted sums; risk is exp(x'b) times count. Overwritten from age to age. */
export interface RiskSet {
  stratum: number;
  age: number;
  /** Positions [from, to) end at this age; those that fail come first, up to `failedTo`. */
  from: number;
  failedTo: number;
  /** Failures, counts included. */
  failures: number;
  /** Sums of risk, risk x, risk x x' (lower triangle, k x k) over all at risk. */
  risk: number;
  readonly first: Float64Array;
  readonly second: Float64Array;
  /** The same over those that fail, and their plain sum of x. */
  failedRisk: number;
  readonly failedFirst: Float64Array;
  readonly failedSecond: Float64Array;
  readonly failedX: Float64Array;
}

/** Where sums have fallen to this share of their largest, what was subtracted has left rounding errors: they are built anew. */
const RESUM = 1e-7;

/**
 * Walks the failure ages of each stratum from the last to the first.
 *
 * @param weights  Risk of each position, exp(x'b) times count.
 * @returns        False where a risk set has no finite risk above 0: the point cannot be computed.
 */
export function walkRiskSets(
  rows: OrderedRows,
  weights: Float64Array,
  withSecond: boolean,
  visit: (set: RiskSet) => void,
): boolean {
  const { columns: k, x, stop, start, failed, count, strata, leaving, leavingStrata } = rows;
  const set: RiskSet = {
    stratum: 0,
    age: 0,
    from: 0,
    failedTo: 0,
    failures: 0,
    risk: 0,
    first: new Float64Array(k),
    second: new Float64Array(k * k),
    failedRisk: 0,
    failedFirst: new Float64Array(k),
    failedSecond: new Float64Array(k * k),
    failedX: new Float64Array(k),
  };
  const { first, second, failedFirst, failedSecond, failedX } = set;
  const addTo = (weight: number, at: number, one: Float64Array, two: Float64Array): void => {
    const offset = at * k;
    for (let a = 0; a < k; a++) {
      const value = weight * x[offset + a]!;
      one[a]! += value;
      if (!withSecond) continue;
      const line = a * k;
      for (let b = 0; b <= a; b++) two[line + b]! += value * x[offset + b]!;
    }
  };
  for (let s = 0; s + 1 < strata.length; s++) {
    set.stratum = s;
    set.risk = 0;
    first.fill(0);
    second.fill(0);
    let largest = 0;
    let gone = leavingStrata[s]!;
    const goneEnd = leavingStrata[s + 1]!;
    const end = strata[s + 1]!;
    for (let at = strata[s]!; at < end; ) {
      const age = stop[at]!;
      set.age = age;
      set.from = at;
      set.failures = 0;
      set.failedRisk = 0;
      failedFirst.fill(0);
      failedSecond.fill(0);
      failedX.fill(0);
      for (; at < end && stop[at] === age; at++) {
        const weight = weights[at]!;
        set.risk += weight;
        addTo(weight, at, first, second);
        if (failed[at] === 0) continue;
        set.failedTo = at + 1;
        set.failures += count[at]!;
        set.failedRisk += weight;
        addTo(weight, at, failedFirst, failedSecond);
        for (let a = 0; a < k; a++) failedX[a]! += count[at]! * x[at * k + a]!;
      }
      if (set.failures === 0) continue;
      for (; gone < goneEnd && start[leaving[gone]!]! >= age; gone++) {
        const left = leaving[gone]!;
        set.risk -= weights[left]!;
        addTo(-weights[left]!, left, first, second);
      }
      largest = Math.max(largest, set.risk);
      if (set.risk < RESUM * largest) {
        set.risk = 0;
        first.fill(0);
        second.fill(0);
        for (let i = strata[s]!; i < at; i++) {
          if (start[i]! >= age) continue;
          set.risk += weights[i]!;
          addTo(weights[i]!, i, first, second);
        }
        largest = set.risk;
      }
      if (!(set.risk > 0 && set.risk < Number.POSITIVE_INFINITY)) return false;
      visit(set);
    }
  }
  return true;
}
