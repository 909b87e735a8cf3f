import { AnalysisError } from "../errors.ts";
import { type CostRate, costRate, onGrid } from "./costRate.ts";
import { quantileOf } from "./quantileOf.ts";
import { cycleCost } from "./redressCycle.ts";
import type { ModeLaw, RedressCosts } from "./redressModel.ts";

/** A value at every age of a grid with two-sided bounds, by quantiles of the draws. */
export interface Banded {
  readonly value: readonly number[];
  readonly lower: readonly number[];
  readonly upper: readonly number[];
}

export interface Ranged {
  readonly value: number;
  readonly lower: number;
  readonly upper: number;
}

export interface IntervalDecision {
  /** Ages of the grid, from one step on. */
  readonly age: readonly number[];
  /** Cost per hour. */
  readonly costRate: Banded;
  /** P(a mode stops a job before the redress). */
  readonly stoppedBefore: Banded;
  /** Best age by the estimate; null where the longest interval is as good. */
  readonly optimalAge: number | null;
  /** Best ages of the draws that have one; null where fewer than half do. */
  readonly optimumRange: { readonly lower: number; readonly upper: number } | null;
  /** Share of the draws in which an interval is better than the longest one looked at. */
  readonly payShare: number;
  /** Cost per hour without planned redresses; null where nothing ever stops a job. */
  readonly runToFailure: Ranged | null;
  /** The age with the least mean cost over the draws, and what it stands for; null where no interval pays. */
  readonly recommended: RecommendedInterval | null;
  /** The estimate's own cycle, for what each mode adds. */
  readonly estimate: CostRate;
  readonly draws: readonly CostRate[];
}

export interface RecommendedInterval {
  readonly age: number;
  /** Ages whose cost by the estimate is within 5 % of the least. */
  readonly flat: { readonly from: number; readonly to: number; readonly toEndOfGrid: boolean };
  readonly costRate: Ranged;
  readonly stoppedBefore: Ranged;
  /** What not knowing the laws better costs: the share of the cost at this age that the best age would save, over the draws. */
  readonly regret: { readonly mean: number; readonly upper: number };
  /** Share of the cost of running to failure that is saved; null where nothing ever stops a job. */
  readonly saving: Ranged | null;
  /** Share of the cost of today's practice that is saved, below 0 where it is the cheaper one; null where it is not known. */
  readonly againstToday: (Ranged & { readonly cheaperShare: number }) | null;
}

/** Ages at which the shop redresses as planned, and how often each; weights need not add up to 1. */
export type AgesToday = readonly { readonly age: number; readonly weight: number }[];

export interface IntervalInput {
  readonly laws: readonly ModeLaw[];
  /** The same modes under parameters that the records do not contradict, drawn at random. */
  readonly draws: readonly (readonly ModeLaw[])[];
  readonly costs: RedressCosts;
  /** Longest interval asked about. */
  readonly longest: number;
  /** Two-sided, 0 < confidence < 1. */
  readonly confidence: number;
  /** Today's practice; none where left out or empty. */
  readonly today?: AgesToday;
}

const CELLS = 240;
/** The flat region of the cost: within this share of the least. Common practice, no source. */
const FLAT = 0.05;

/**
 * Best redress interval of a set of modes with what the parameters leave open carried through: every draw has its own
 * cost curve, optimum and cost of running to failure. The recommended age has the least mean cost over the draws, which is
 * the choice of least expected regret; the flat region says how far it may be moved for convenience.
 *
 * Errors  "bad-setting" for no modes, no draws, or a longest interval that is not above 0.
 */
export function decideInterval(input: IntervalInput): IntervalDecision {
  const { laws, draws, costs, longest, confidence, today = [] } = input;
  if (laws.length === 0 || draws.length === 0)
    throw new AnalysisError("bad-setting", { setting: "modes", value: laws.length });
  if (!(longest > 0 && Number.isFinite(longest)))
    throw new AnalysisError("bad-setting", { setting: "longest interval", value: String(longest) });
  const step = longest / CELLS;
  const estimate = costRate(laws, costs, step, CELLS);
  const drawn = draws.map((one) => costRate(one, costs, step, CELLS));
  const [low, high] = [(1 - confidence) / 2, (1 + confidence) / 2];
  const ranged = (value: number, values: readonly number[]): Ranged => ({
    value,
    lower: Math.min(value, quantileOf(values, low)),
    upper: Math.max(value, quantileOf(values, high)),
  });
  const banded = (of: (one: CostRate) => Float64Array): Banded => {
    const own = of(estimate);
    const lines = drawn.map(of);
    const rows = Array.from({ length: CELLS }, (_, cell) =>
      ranged(
        own[cell + 1]!,
        lines.map((line) => line[cell + 1]!),
      ),
    );
    return {
      value: rows.map(({ value }) => value),
      lower: rows.map(({ lower }) => lower),
      upper: rows.map(({ upper }) => upper),
    };
  };
  const optima = drawn.flatMap(({ optimalAge }) => (optimalAge === null ? [] : [optimalAge]));
  const payShare = optima.length / drawn.length;
  const endless = drawn.filter((one) => one.runToFailure === null).length;
  const failing = estimate.runToFailure;
  return {
    age: Array.from({ length: CELLS }, (_, cell) => (cell + 1) * step),
    costRate: banded(({ rate }) => rate),
    stoppedBefore: banded(({ cycle }) => cycle.running.map((share) => 1 - share)),
    optimalAge: estimate.optimalAge,
    optimumRange: payShare < 0.5 ? null : { lower: quantileOf(optima, low), upper: quantileOf(optima, high) },
    payShare,
    runToFailure:
      failing === null || endless > 0
        ? null
        : ranged(
            failing.costRate,
            drawn.map((one) => one.runToFailure?.costRate ?? 0),
          ),
    recommended: estimate.optimalAge === null ? null : recommend(estimate, drawn, costs, today, step, ranged, high),
    estimate,
    draws: drawn,
  };
}

function recommend(
  estimate: CostRate,
  drawn: readonly CostRate[],
  costs: RedressCosts,
  today: AgesToday,
  step: number,
  ranged: (value: number, values: readonly number[]) => Ranged,
  high: number,
): RecommendedInterval | null {
  if (!(costs.planned > 0)) return null;
  let [best, least] = [0, Number.POSITIVE_INFINITY];
  for (let cell = 1; cell <= CELLS; cell++) {
    const mean = drawn.reduce((sum, { rate }) => sum + rate[cell]!, 0) / drawn.length;
    if (mean < least) [best, least] = [cell, mean];
  }
  const age = best * step;
  const regrets = drawn.map(({ rate, leastRate }) => Math.max(0, 1 - leastRate / rate[best]!));
  const within = (cell: number): boolean => estimate.rate[cell]! <= estimate.leastRate * (1 + FLAT);
  let [from, to] = [nearestWithin(within, best), nearestWithin(within, best)];
  while (from > 1 && within(from - 1)) from--;
  while (to < CELLS && within(to + 1)) to++;
  const saved = (one: CostRate): number =>
    one.runToFailure === null ? Number.NaN : 1 - one.rate[best]! / one.runToFailure.costRate;
  const savings = drawn.map(saved);
  const overToday = (one: CostRate): number => 1 - one.rate[best]! / rateAtAges(one, costs, today);
  const againstToday = today.length === 0 ? null : drawn.map(overToday);
  return {
    age,
    flat: { from: from * step, to: to * step, toEndOfGrid: to === CELLS },
    costRate: ranged(
      estimate.rate[best]!,
      drawn.map(({ rate }) => rate[best]!),
    ),
    stoppedBefore: ranged(
      1 - onGrid(estimate.cycle.running, step, age),
      drawn.map(({ cycle }) => 1 - cycle.running[best]!),
    ),
    regret: { mean: regrets.reduce((sum, value) => sum + value, 0) / regrets.length, upper: quantileOf(regrets, high) },
    saving: savings.some(Number.isNaN) ? null : ranged(saved(estimate), savings),
    againstToday: againstToday && {
      ...ranged(overToday(estimate), againstToday),
      cheaperShare: againstToday.filter((share) => share > 0).length / againstToday.length,
    },
  };
}

/**
 * Cost per hour where the planned age differs from cycle to cycle, whatever the tool's state: mean cost over mean length.
 * Ages beyond the grid count as its end.
 */
export function rateAtAges({ cycle }: CostRate, costs: RedressCosts, ages: AgesToday): number {
  const cost = cycleCost(cycle, costs);
  let [paid, ran] = [0, 0];
  for (const { age, weight } of ages) {
    paid += weight * onGrid(cost, cycle.step, age);
    ran += weight * onGrid(cycle.meanLength, cycle.step, age);
  }
  return paid / ran;
}

/** The recommended cell, or the nearest one in the flat region of the estimate where the draws moved it outside. */
function nearestWithin(within: (cell: number) => boolean, best: number): number {
  for (let away = 0; away < CELLS; away++) {
    if (best - away >= 1 && within(best - away)) return best - away;
    if (best + away <= CELLS && within(best + away)) return best + away;
  }
  return best;
}
