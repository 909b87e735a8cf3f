import { logGamma } from "../../numerics/index.ts";

/** Steps from one partial table to the next beyond which the exact sum is given up, about a second. */
const LARGEST_WORK = 1_000_000;
/** Tables whose probabilities differ by less than this share count as equally likely. */
const TIE = 1e-7;

/**
 * Fisher's exact test of an r x c table: the share, among all tables with the same margins, of those not more probable than the
 * one seen.
 *
 * Column by column: partial tables that leave the same row totals are one node, on which all that matters is how probable the
 * columns so far were. The most and least probable ways on from a node settle whole bundles at once.
 *
 * @param table  Whole counts; rows without counts are allowed.
 * @returns      Null where the table is too large for the exact sum.
 * Source        Mehta & Patel (1983), J. Amer. Statist. Assoc. 78, 427-434.
 */
export function exactTableTest(table: readonly (readonly number[])[]): number | null {
  const isWide = table.length <= (table[0]?.length ?? 0);
  const turned = isWide ? table : (table[0] ?? []).map((_, j) => table.map((row) => row[j]!));
  const rowTotals = turned.map(sum).filter((total) => total > 0);
  const columnTotals = (turned[0] ?? []).map((_, j) => sum(turned.map((row) => row[j]!))).filter((total) => total > 0);
  if (rowTotals.length < 2 || columnTotals.length < 2) return 1;
  const n = sum(rowTotals);
  // Nodes are told apart by a number with one digit a row.
  if ((n + 1) ** (rowTotals.length - 1) > Number.MAX_SAFE_INTEGER) return null;
  const logFactorial = Float64Array.from({ length: n + 1 }, (_, k) => logGamma(k + 1));
  const logOf = (cells: readonly number[]): number => cells.reduce((total, cell) => total - logFactorial[cell]!, 0);
  // P(table) = exp(constant - sum log cell!).
  const constant = -logOf([...rowTotals, ...columnTotals]) - logFactorial[n]!;
  const limit = constant + logOf(turned.flat()) + TIE;

  const network = networkOf(rowTotals, columnTotals, logFactorial);
  let nodes = new Map([
    [network.keyOf(rowTotals), { left: rowTotals, pasts: new Map([[0, { log: constant, ways: 1 }]]) }],
  ]);
  let settled = 0;
  for (let stage = 0; stage < columnTotals.length; stage++) {
    const next: typeof nodes = new Map();
    for (const { left, pasts } of nodes.values()) {
      const on = network.onFrom(stage, left);
      if (on === null) return null;
      const open: Past[] = [];
      for (const past of pasts.values()) {
        if (past.log + on.longest <= limit) settled += past.ways * Math.exp(past.log + on.total);
        else if (past.log + on.shortest <= limit) open.push(past);
      }
      if (open.length === 0) continue;
      const isDone = network.eachColumn(columnTotals[stage]!, left, open.length, (rest, step) => {
        const key = network.keyOf(rest);
        let node = next.get(key);
        if (!node) {
          node = { left: [...rest], pasts: new Map() };
          next.set(key, node);
        }
        for (const past of open) {
          const log = past.log + step;
          const bundle = Math.round(log * 1e9);
          const known = node.pasts.get(bundle);
          if (known) known.ways += past.ways;
          else node.pasts.set(bundle, { log, ways: past.ways });
        }
        return true;
      });
      if (!isDone) return null;
    }
    nodes = next;
  }
  for (const { pasts } of nodes.values()) {
    for (const past of pasts.values()) if (past.log <= limit) settled += past.ways * Math.exp(past.log);
  }
  return Math.min(1, settled);
}

/** Columns so far of equal probability. */
interface Past {
  readonly log: number;
  ways: number;
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/** Logs, over all ways to fill the columns that are left, of 1 / product of factorials: largest, smallest, sum. */
interface OnFrom {
  readonly longest: number;
  readonly shortest: number;
  readonly total: number;
}

interface Network {
  keyOf(left: readonly number[]): number;
  /**
   * Calls `visit` with what each way to fill a column leaves of the row totals (one array, overwritten) and the log of its share.
   * False, and cut short, where `visit` says so or the work grows too large.
   */
  eachColumn(
    total: number,
    left: readonly number[],
    cost: number,
    visit: (rest: number[], step: number) => boolean,
  ): boolean;
  /** Null where the work grows too large. */
  onFrom(stage: number, left: readonly number[]): OnFrom | null;
}

function networkOf(rowTotals: readonly number[], columnTotals: readonly number[], logFactorial: Float64Array): Network {
  const known = columnTotals.map(() => new Map<number, OnFrom>());
  const base = sum(rowTotals) + 1;
  let work = 0;

  const keyOf = (left: readonly number[]): number => {
    let key = 0;
    // The last is what the others leave of a known sum.
    for (let i = 0; i < left.length - 1; i++) key = key * base + left[i]!;
    return key;
  };

  const eachColumn: Network["eachColumn"] = (total, left, cost, visit) => {
    const rest = [...left];
    const room = [...left];
    for (let i = left.length - 2; i >= 0; i--) room[i] = room[i + 1]! + left[i]!;
    const fill = (i: number, missing: number, step: number): boolean => {
      if (i === left.length - 1) {
        work += cost;
        if (work > LARGEST_WORK) return false;
        rest[i] = left[i]! - missing;
        return visit(rest, step - logFactorial[missing]!);
      }
      const most = Math.min(missing, left[i]!);
      for (let cell = Math.max(0, missing - room[i + 1]!); cell <= most; cell++) {
        rest[i] = left[i]! - cell;
        if (!fill(i + 1, missing - cell, step - logFactorial[cell]!)) return false;
      }
      return true;
    };
    return fill(0, total, 0);
  };

  const onFrom: Network["onFrom"] = (stage, left) => {
    if (stage === columnTotals.length) return { longest: 0, shortest: 0, total: 0 };
    // The order of the rows does not matter for what is still possible.
    const sorted = [...left].sort((a, b) => a - b);
    const key = keyOf(sorted);
    const before = known[stage]!.get(key);
    if (before) return before;
    let longest = Number.NEGATIVE_INFINITY;
    let shortest = Number.POSITIVE_INFINITY;
    const isDone = eachColumn(columnTotals[stage]!, sorted, 1, (rest, step) => {
      const after = onFrom(stage + 1, rest);
      if (after === null) return false;
      longest = Math.max(longest, step + after.longest);
      shortest = Math.min(shortest, step + after.shortest);
      return true;
    });
    if (!isDone) return null;
    // Summed over all tables, 1 / product of cell factorials is N! / (rows! columns!).
    const logs = (values: readonly number[]): number =>
      values.reduce((total, value) => total + logFactorial[value]!, 0);
    const total = logFactorial[sum(sorted)]! - logs(sorted) - logs(columnTotals.slice(stage));
    const answer = { longest, shortest, total };
    known[stage]!.set(key, answer);
    return answer;
  };
  return { keyOf, eachColumn, onFrom };
}
