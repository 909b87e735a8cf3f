import { normalCdf } from "../numerics/index.ts";
import { checkSystems } from "./checkSystems.ts";
import { trendTests } from "./trendTests.ts";
import type { FollowedSystem } from "./types.ts";

/** Tests of trend from the intervals between failures of one system: they do not assume a constant rate, only like intervals. */
export interface IntervalTrendTests {
  /** Laplace's statistic divided by the coefficient of variation of the intervals. Null under three intervals. */
  readonly lewisRobinson: { readonly variation: number; readonly statistic: number; readonly pValue: number } | null;
  /** Pairs of intervals of which the later is longer: many where the system improves. */
  readonly reverseArrangements: {
    readonly count: number;
    readonly pairs: number;
    readonly mean: number;
    readonly variance: number;
    /** Exact, one-sided: as many or more if order were chance. */
    readonly improvingTail: number;
    /** Exact, one-sided: as few or fewer. */
    readonly worseningTail: number;
  };
}

/**
 * Lewis-Robinson and reverse arrangements.
 *
 * Conventions  Intervals run from failure to failure, the first from age 0; the time after the last failure is not one.
 *              Equal intervals do not count as reversed.
 * Source       Lewis & Robinson (1974); Mann (1945), Econometrica 13, 245-259; NIST/SEMATECH e-Handbook, 8.2.3.4.
 */
export function intervalTrendTests(system: FollowedSystem): IntervalTrendTests {
  const failures = checkSystems([system])[0]?.failures ?? [];
  const intervals = failures.map((age, i) => age - (failures[i - 1] ?? 0));
  const n = intervals.length;
  const laplace = trendTests([system]).laplace;
  const mean = intervals.reduce((sum, value) => sum + value, 0) / n;
  const spread = Math.sqrt(intervals.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1));
  const variation = spread / mean;
  const statistic = laplace && n >= 3 && variation > 0 ? laplace.statistic / variation : null;

  let count = 0;
  for (let i = 0; i < n; i++) for (let j = i + 1; j < n; j++) if (intervals[j]! > intervals[i]!) count++;
  const shares = arrangementShares(n);
  const sum = (from: number, to: number): number => shares.slice(from, to).reduce((total, share) => total + share, 0);
  return {
    lewisRobinson: statistic === null ? null : { variation, statistic, pValue: 2 * normalCdf(-Math.abs(statistic)) },
    reverseArrangements: {
      count,
      pairs: (n * (n - 1)) / 2,
      mean: (n * (n - 1)) / 4,
      variance: (n * (n - 1) * (2 * n + 5)) / 72,
      improvingTail: Math.min(1, sum(count, shares.length)),
      worseningTail: Math.min(1, sum(0, count + 1)),
    },
  };
}

/** Share of the n! orders with 0, 1, 2 ... reversed pairs: the i-th interval adds 0 to i - 1 of them, each as likely. */
function arrangementShares(n: number): readonly number[] {
  let shares: readonly number[] = [1];
  for (let i = 2; i <= n; i++) {
    const next = new Array<number>(shares.length + i - 1).fill(0);
    for (const [count, share] of shares.entries()) {
      for (let added = 0; added < i; added++) next[count + added] = next[count + added]! + share / i;
    }
    shares = next;
  }
  return shares;
}
