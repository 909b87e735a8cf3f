/** The latent lives: what really happens to an item, known to the simulator alone. */

import type { Draw } from "./random.ts";
import type { ItemOfType } from "./toolTypes.ts";
import type { ModeTruth, WeibullLaw } from "./truth.ts";
import { effectTruths } from "./truth.ts";

/** One restoration of one mode of one item, as it truly went. Ages in hours. */
export interface TrueLife {
  readonly serial: string;
  readonly item: string;
  readonly itemSerial: string | null;
  readonly mode: string;
  /** The redress that restored it and its date; in mid-life entry the first redress in the records. */
  readonly since: string;
  readonly sinceOn: string;
  readonly law: WeibullLaw;
  /** Acts on the cumulative hazard of the law: S(t) = exp(-multiplier (t / scale)^shape). */
  readonly multiplier: number;
  /** Age at which the records begin to see it; above 0 where it was in use before, and then known sound there or not. */
  readonly entryAge: number;
  readonly entrySound: boolean;
  /** Age of failure on the mode's own clock, whether it was reached or not. */
  readonly latentAge: number;
  /** For a mode that follows another: the delay drawn from `law`; `latentAge` includes the other's. */
  readonly delay: number | null;
  /** Operating hours at failure; null while not reached. */
  readonly failedAt: number | null;
  /** Operating hours at the end of this life in the fleet: restored, lost, still running. */
  readonly endAge: number;
  readonly ended: "restored" | "lost" | "running" | "cause";
  /** Operating hours at which another mode's failure ended it. */
  readonly causeAt: number | null;
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/** A mode of an item in use. */
export interface ModeInUse {
  readonly truth: ModeTruth;
  readonly life: Mutable<TrueLife>;
  /** Hours on the mode's own clock. */
  clock: number;
  /** Operating hours. */
  age: number;
}

export interface ItemInUse {
  readonly item: ItemOfType;
  readonly itemSerial: string | null;
  /** Operating hours since renewed. */
  age: number;
  readonly modes: ModeInUse[];
}

/** Conditions of a run that make its hours count more or less. */
export interface RunConditions {
  readonly thermal: number;
  readonly vibrating: number;
}

const gasConstant = 8.314;

export function thermalAcceleration(celsius: number): number {
  const { activationEnergy, referenceC } = effectTruths.temperature;
  return Math.exp((activationEnergy / gasConstant) * (1 / (referenceC + 273.15) - 1 / (celsius + 273.15)));
}

export const accelerationOf = (truth: ModeTruth, conditions: RunConditions): number =>
  (truth.thermal ? conditions.thermal : 1) * (truth.vibrating ? conditions.vibrating : 1);

/**
 * Age of failure from S(t) = exp(-multiplier (t / scale)^shape), given survival to `entryAge`:
 *   (t/s)^shape = (entry/s)^shape + E / multiplier, E exponential with mean 1
 */
export function drawAge(draw: Draw, law: WeibullLaw, multiplier: number, entryAge: number): number {
  return law.scale * ((entryAge / law.scale) ** law.shape + draw.exponential() / multiplier) ** (1 / law.shape);
}

/** Operating hours of a run after which this mode fails; Infinity where it has failed already or was ended. */
export function hoursToFailure(mode: ModeInUse, conditions: RunConditions): number {
  if (mode.life.failedAt !== null || mode.life.causeAt !== null) return Number.POSITIVE_INFINITY;
  return (mode.life.latentAge - mode.clock) / accelerationOf(mode.truth, conditions);
}

/** Runs a mode for `hours`. */
export function advance(mode: ModeInUse, hours: number, conditions: RunConditions): void {
  const left = hoursToFailure(mode, conditions);
  if (left <= hours) mode.life.failedAt = mode.age + Math.max(left, 0);
  mode.age += hours;
  mode.clock += hours * accelerationOf(mode.truth, conditions);
}

/** Ends the lives of an item's modes, or leaves them running, at the age they have now. */
export function closeModes(
  item: ItemInUse,
  ended: TrueLife["ended"],
  which: (truth: ModeTruth) => boolean = () => true,
): void {
  for (const { truth, life, age } of item.modes) {
    if (!which(truth)) continue;
    life.ended = life.causeAt === null ? ended : "cause";
    life.endAge = age;
  }
}
