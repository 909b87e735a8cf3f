import { cycleCost, type RedressCycle, redressCycle } from "./redressCycle.ts";
import type { ModeLaw, RedressCosts } from "./redressModel.ts";
import { type RunToFailure, runToFailure } from "./runToFailure.ts";

/** Cost per hour of every interval on the grid of a cycle, and where it is least. */
export interface CostRate {
  readonly cycle: RedressCycle;
  /** Infinite at age 0. */
  readonly rate: Float64Array;
  /** Where the rate is least; null where no age on the grid is better than going on to its end. */
  readonly optimalAge: number | null;
  /** Least rate on the grid. */
  readonly leastRate: number;
  readonly runToFailure: RunToFailure | null;
}

/** An optimum must cost at least this much less than the longest interval to be one: 0.1 %. */
const WORTH = 1e-3;

/**
 * Intervals are compared with each other up to the end of the grid, not with running to failure: that rests on the far tail
 * of the laws, which no record has seen.
 *
 * @param step, cells  The grid of intervals: step, 2 step, ..., cells * step hours.
 */
export function costRate(laws: readonly ModeLaw[], costs: RedressCosts, step: number, cells: number): CostRate {
  const cycle = redressCycle(laws, step, cells);
  const cost = cycleCost(cycle, costs);
  const rate = cost.map((value, age) => (age === 0 ? Number.POSITIVE_INFINITY : value / cycle.meanLength[age]!));
  const toFailure = runToFailure(laws, costs);
  let best = 1;
  for (let age = 2; age <= cells; age++) if (rate[age]! < rate[best]!) best = age;
  if (rate[best]! >= rate[cells]! * (1 - WORTH))
    return { cycle, rate, optimalAge: null, leastRate: rate[best]!, runToFailure: toFailure };
  const { at, value } = vertex(rate, best);
  return { cycle, rate, optimalAge: at * step, leastRate: value, runToFailure: toFailure };
}

/** Lowest point of the parabola through a least grid point and its neighbours. */
function vertex(rate: Float64Array, best: number): { at: number; value: number } {
  const [a, b, c] = [rate[best - 1]!, rate[best]!, rate[best + 1]!];
  const bend = a - 2 * b + c;
  if (!(bend > 0) || !Number.isFinite(a)) return { at: best, value: b };
  const shift = (a - c) / (2 * bend);
  return { at: best + shift, value: b - ((a - c) * shift) / 4 };
}

/** A value on the grid of a cycle at any age within it, linearly. */
export function onGrid(values: Float64Array, step: number, age: number): number {
  const place = Math.min(Math.max(age / step, 0), values.length - 1);
  const cell = Math.min(Math.floor(place), values.length - 2);
  const [low, high] = [values[cell]!, values[cell + 1]!];
  const share = place - cell;
  if (share === 0) return low;
  return low + share * (high - low);
}
