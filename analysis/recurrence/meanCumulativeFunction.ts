import { AnalysisError } from "../errors.ts";
import { normalQuantile } from "../numerics/index.ts";
import type { Bounds, RecurrentUnit } from "./types.ts";

export interface CumulativeStep {
  readonly time: number;
  readonly atRisk: number;
  readonly events: number;
  /** Mean number of events a unit up to and including `time`. */
  readonly mean: number;
  /** Robust, by unit: units may differ, events of one unit may cluster. */
  readonly standardError: number;
  /** The standard error if events came independently of each other. */
  readonly independentStandardError: number;
  /** mean * exp(+-z se / mean): never below 0. */
  readonly bounds: Bounds;
  /** mean +- z se: the lower one can be negative. */
  readonly plainBounds: Bounds;
}

export interface MeanCumulativeFunction {
  readonly units: number;
  readonly confidence: number;
  readonly steps: readonly CumulativeStep[];
}

/**
 * Mean cumulative number of events a unit against age:
 *   M(t) = sum over event ages u <= t of d(u) / n(u)
 * with n(u) the units observed at u: a unit in a gap of its observation is not at risk.
 *
 * @param units       Any order; a stretch of observation is (from, to], so a unit is at risk up to and including its end.
 * @param confidence  Two-sided, of the bounds at one age (not of the whole line at once).
 * @returns           One step a distinct event age, ascending; no steps without events.
 *
 * Variance   sum over units i of ( sum over u <= t of Y_i(u) (d_i(u) - d(u)/n(u)) / n(u) )^2
 * Errors     "bad-setting" for stretches that overlap or an event outside its unit's observation.
 * Source     Nelson (1995), Technometrics 37, 147-157; Lawless & Nadeau (1995), Technometrics 37, 158-168.
 */
export function meanCumulativeFunction(
  units: readonly RecurrentUnit[],
  { confidence = 0.9 }: { readonly confidence?: number } = {},
): MeanCumulativeFunction {
  for (const unit of units) checkUnit(unit);
  const z = normalQuantile(0.5 + confidence / 2);
  const counted = units.map((unit) => countByAge(unit.events));
  const times = [...new Set(units.flatMap((unit) => unit.events))].sort((a, b) => a - b);
  const deviations = new Float64Array(units.length);
  const steps: CumulativeStep[] = [];
  let mean = 0;
  let independent = 0;

  for (const time of times) {
    const present = units.map((unit) => isObserved(unit, time));
    const atRisk = present.filter(Boolean).length;
    const events = counted.reduce((sum, byAge) => sum + (byAge.get(time) ?? 0), 0);
    const rate = events / atRisk;
    mean += rate;
    independent += events / atRisk ** 2;
    for (let i = 0; i < units.length; i++) {
      if (present[i]) deviations[i] = deviations[i]! + ((counted[i]?.get(time) ?? 0) - rate) / atRisk;
    }
    const standardError = Math.sqrt(deviations.reduce((sum, value) => sum + value ** 2, 0));
    const factor = Math.exp((z * standardError) / mean);
    steps.push({
      time,
      atRisk,
      events,
      mean,
      standardError,
      independentStandardError: Math.sqrt(independent),
      bounds: { lower: mean / factor, upper: mean * factor },
      plainBounds: { lower: mean - z * standardError, upper: mean + z * standardError },
    });
  }
  return { units: units.length, confidence, steps };
}

export function isObserved(unit: RecurrentUnit, time: number): boolean {
  return unit.observed.some(({ from, to }) => from < time && time <= to);
}

export function countByAge(events: readonly number[]): ReadonlyMap<number, number> {
  const counts = new Map<number, number>();
  for (const age of events) counts.set(age, (counts.get(age) ?? 0) + 1);
  return counts;
}

function checkUnit(unit: RecurrentUnit): void {
  let end = 0;
  for (const { from, to } of unit.observed) {
    if (!(from >= end && to >= from && Number.isFinite(to))) {
      throw new AnalysisError("bad-setting", {
        setting: `observation of ${unit.id}`,
        value: `${from} to ${to}`,
        allowed: "stretches in order that do not overlap",
      });
    }
    end = to;
  }
  const outside = unit.events.find((age) => !isObserved(unit, age));
  if (outside !== undefined) {
    throw new AnalysisError("bad-setting", {
      setting: `events of ${unit.id}`,
      value: String(outside),
      allowed: "ages under observation",
    });
  }
}
