import type { LifeSample } from "../estimation/types.ts";
import { cellHazards } from "./cellHazards.ts";
import { requireCensoring } from "./censoring.ts";
import { type CellLife, innermostIntervals } from "./innermostIntervals.ts";

export interface TurnbullInterval {
  /** Failures of this mass lie in (low, high]; at the single age where low = high. */
  readonly low: number;
  /** null: beyond `low`, without end. */
  readonly high: number | null;
  readonly mass: number;
  /** Survival at `high`. Between `low` and `high` the curve is not determined. */
  readonly survivalAfter: number;
}

export interface TurnbullCurve {
  readonly method: "Turnbull";
  readonly unit: string;
  /** Survival is of those that reach this age: the youngest at which any life was followed. 0: from the start. */
  readonly fromAge: number;
  /** Intervals with mass, ascending. Masses add up to 1. */
  readonly intervals: readonly TurnbullInterval[];
  readonly logLikelihood: number;
  readonly iterations: number;
  /**
   * Kuhn-Tucker certificate: the largest derivative of the log-likelihood by mass in a cell, per life. 1 at the maximum.
   * With late entries by a cell's hazard instead, plus 1: there the likelihood is concave in the hazards, not the masses.
   */
  readonly largestGradient: number;
  readonly converged: boolean;
  /** False where other masses fit as well, or where nobody was followed through some ages. */
  readonly massUnique: boolean;
  readonly lateEntries: number;
  /** Age up to which the curve rests on so few late-entered lives that it falls to (almost) nothing; null where not. */
  readonly earlyCollapse: { readonly age: number; readonly survivalAfter: number } | null;
}

/**
 * Nonparametric maximum-likelihood estimate of survival from any mix of exact, right-, left- and interval-censored lives
 * with late entry (left truncation):
 *   log-likelihood = sum count [log P(lower < T <= upper) - log P(T > entry)]
 *
 * @param sample  n >= 1 lives in any order, with counts; no ranged ends (see `atMiddleOfRanges`).
 * @returns       Mass on innermost intervals; no assumption about where inside an interval it lies.
 *
 * Conventions  Failed in (lower, upper]; exact failures are single ages; followed from just after entry. For exact and
 *              right-censored lives it is the product-limit estimate. No bounds: the usual ones do not hold here.
 * Errors       "unsupported-censoring" for ranged ends; "bad-life"; "no-lives".
 * Accuracy     `largestGradient` <= 1 + 1e-9 where `converged`; masses below 1e-12 are dropped.
 * Source       Turnbull (1976), J. R. Statist. Soc. B 38, 290-295; Gentleman & Geyer (1994), Biometrika 81, 618-623.
 */
export function turnbull(sample: LifeSample): TurnbullCurve {
  requireCensoring(sample, "Turnbull", ["exact", "right", "left", "interval"]);
  const { cells, lives } = innermostIntervals(sample);
  const entries = Array.from(sample.entry, (entry) => Math.max(0, entry));
  const lateEntries = entries.reduce((sum, entry, i) => (entry > 0 ? sum + (sample.count[i] ?? 0) : sum), 0);

  const finite = cells.filter((cell) => cell.high < Number.POSITIVE_INFINITY).length;
  const bounded = lives.map(
    (life): CellLife => ({ ...life, survived: [life.survived[0], Math.min(life.survived[1], finite)] }),
  );
  const { hazard, iterations, largestGradient, converged, unique } = cellHazards(finite, bounded);

  const survival = [1];
  for (let k = 0; k < finite; k += 1) survival.push((survival[k] ?? 1) * Math.exp(-(hazard[k] ?? 0)));
  const masses = cells.map((_, k) =>
    k < finite ? (survival[k] ?? 0) * -Math.expm1(-(hazard[k] ?? 0)) : (survival[finite] ?? 0),
  );
  const intervals = cells.flatMap(({ low, high }, k): TurnbullInterval[] => {
    const mass = masses[k] ?? 0;
    if (mass < 1e-12) return [];
    return [
      {
        low,
        high: high < Number.POSITIVE_INFINITY ? high : null,
        mass,
        survivalAfter: k < finite ? (survival[k + 1] ?? 0) : 0,
      },
    ];
  });

  const untruncated = lateEntries === 0;
  return {
    method: "Turnbull",
    unit: sample.unit,
    fromAge: Math.min(...entries),
    intervals,
    logLikelihood: logLikelihoodOf(bounded, hazard),
    iterations,
    largestGradient: untruncated ? massGradient(lives, masses) : largestGradient,
    converged,
    massUnique: unique,
    lateEntries,
    earlyCollapse: untruncated ? null : findCollapse(intervals, sample),
  };
}

function logLikelihoodOf(lives: readonly CellLife[], hazard: Float64Array): number {
  const sum = ([from, to]: readonly [number, number]): number =>
    hazard.subarray(from, to).reduce((total, x) => total + x, 0);
  return lives.reduce(
    (total, { count, survived, failedIn }) =>
      total + count * ((failedIn === null ? 0 : Math.log(-Math.expm1(-sum(failedIn)))) - sum(survived)),
    0,
  );
}

/** Largest over cells j of (1/n) sum count [j in the life's cells] / P(the life's cells). */
function massGradient(lives: readonly CellLife[], masses: readonly number[]): number {
  const sums = [0];
  for (const mass of masses) sums.push((sums[sums.length - 1] ?? 0) + mass);
  const change = new Float64Array(masses.length + 1);
  let total = 0;
  for (const { count, survived, failedIn } of lives) {
    const [from, to] = failedIn ?? [survived[1], masses.length];
    const slope = count / ((sums[to] ?? 0) - (sums[from] ?? 0));
    change[from] = (change[from] ?? 0) + slope;
    change[to] = (change[to] ?? 0) - slope;
    total += count;
  }
  let running = 0;
  let largest = 0;
  for (let j = 0; j < masses.length; j += 1) {
    running += change[j] ?? 0;
    largest = Math.max(largest, running);
  }
  return largest / total;
}

/** Survival of a twentieth or less at an age that more than half of the lives are known to have passed. */
function findCollapse(intervals: readonly TurnbullInterval[], sample: LifeSample): TurnbullCurve["earlyCollapse"] {
  const total = sample.count.reduce((sum, count) => sum + count, 0);
  for (const { high, survivalAfter } of intervals) {
    if (high === null || survivalAfter > 0.05) continue;
    const beyond = sample.lower.reduce((sum, lower, i) => (lower >= high ? sum + (sample.count[i] ?? 0) : sum), 0);
    return beyond > 0.5 * total ? { age: high, survivalAfter } : null;
  }
  return null;
}
