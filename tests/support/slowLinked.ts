/**
 * Sound, defective, failed: the probability of a history straight from its definition, by midpoints on a fine grid, and the
 * same by drawing pairs. Shares nothing with `analysis/estimation/linked` but the shape of a history.
 *
 * A history says: the defect came at D in its interval, the failure at D + H in its own. Its probability is the integral
 * over u of f_D(u) times the chance that H fits, given D = u; a density where an age is exact.
 */
import type { LinkedHistory, WeibullPair } from "../../analysis/estimation/linked/types.ts";

interface Law {
  readonly shape: number;
  readonly scale: number;
}

const survival = (law: Law, age: number): number =>
  age <= 0 ? 1 : age === Number.POSITIVE_INFINITY ? 0 : Math.exp(-((age / law.scale) ** law.shape));
const density = (law: Law, age: number): number =>
  age <= 0 ? 0 : (law.shape / law.scale) * (age / law.scale) ** (law.shape - 1) * survival(law, age);
const ageAt = (law: Law, surviving: number): number => law.scale * (-Math.log(surviving)) ** (1 / law.shape);

/** Mean over the law's own probability of g(age), age in (from, to): midpoints in the fraction surviving. */
function average(law: Law, from: number, to: number, g: (age: number) => number, steps: number): number {
  const [high, low] = [survival(law, from), survival(law, to)];
  if (!(high > low)) return 0;
  let sum = 0;
  for (let i = 0; i < steps; i++) sum += g(ageAt(law, low + ((i + 0.5) / steps) * (high - low)));
  return (sum / steps) * (high - low);
}

export function slowProbability({ defect, failure, entry }: LinkedHistory, laws: WeibullPair, steps = 20_000): number {
  const { defect: first, delay } = laws;
  const to = defect.to ?? Number.POSITIVE_INFINITY;
  const failedAt = failure.to !== null && failure.from === failure.to ? failure.to : null;
  const fits = (u: number): number => {
    if (failedAt !== null) return density(delay, failedAt - u);
    return survival(delay, failure.from - u) - (failure.to === null ? 0 : survival(delay, failure.to - u));
  };
  const seen = survival(first, entry);
  if (defect.from === defect.to) return (density(first, defect.from) * fits(defect.from)) / seen;
  if (failedAt === null) return average(first, defect.from, to, fits, steps) / seen;
  // Both densities may be steep at their own 0: each half is averaged over the law that is steep there.
  const end = Math.min(to, failedAt);
  const middle = (defect.from + end) / 2;
  const early = average(first, defect.from, middle, fits, steps);
  const late = average(delay, failedAt - end, failedAt - middle, (v) => density(first, failedAt - v), steps);
  return (early + late) / seen;
}

export function slowLogLikelihood(histories: readonly LinkedHistory[], laws: WeibullPair, steps?: number): number {
  return histories.reduce((sum, history) => sum + Math.log(slowProbability(history, laws, steps)), 0);
}

/** Share of drawn pairs that fit a history without exact ages, with its Monte Carlo standard error. */
export function drawnProbability(
  { defect, failure, entry }: LinkedHistory,
  laws: WeibullPair,
  random: () => number,
  draws: number,
): { readonly share: number; readonly standardError: number } {
  let entered = 0;
  let fitting = 0;
  for (let i = 0; i < draws; i++) {
    const d = ageAt(laws.defect, 1 - random());
    const l = d + ageAt(laws.delay, 1 - random());
    if (d <= entry) continue;
    entered++;
    const inDefect = d > defect.from && d <= (defect.to ?? Number.POSITIVE_INFINITY);
    if (inDefect && l > failure.from && l <= (failure.to ?? Number.POSITIVE_INFINITY)) fitting++;
  }
  const share = fitting / entered;
  return { share, standardError: Math.sqrt((share * (1 - share)) / entered) };
}

export interface ShopOfDefects {
  readonly laws: WeibullPair;
  readonly items: number;
  /** Age of the planned look and redress, drawn between these. */
  readonly plannedAt: readonly [low: number, high: number];
  /** Length of a run: a failure without a noted hour is known to lie in one of them. */
  readonly runHours: number;
  /** Share of failures whose hour is noted. */
  readonly hourNoted: number;
  /** Looks at these ages too, and the item goes on if it was sound. */
  readonly looksAt?: readonly number[];
}

/** Items that run until they fail or until their planned look, and are looked at then: what a shop would know of each. */
export function simulateShop(shop: ShopOfDefects, random: () => number): LinkedHistory[] {
  const { laws, plannedAt, runHours, looksAt = [] } = shop;
  return Array.from({ length: shop.items }, (): LinkedHistory => {
    const d = ageAt(laws.defect, 1 - random());
    const l = d + ageAt(laws.delay, 1 - random());
    const planned = plannedAt[0] + (plannedAt[1] - plannedAt[0]) * random();
    // A look that finds the defect ends the history: the item is renewed.
    const found = [...looksAt.filter((age) => age < planned), planned].find((age) => age >= d) ?? planned;
    const soundAt = Math.max(0, ...[...looksAt, planned].filter((age) => age <= planned && age < d && age < l));
    if (l > found) {
      const defect = d <= found ? { from: soundAt, to: found } : { from: found, to: null };
      return { defect, failure: { from: found, to: null }, entry: 0 };
    }
    const run = Math.floor(l / runHours) * runHours;
    const failure = random() < shop.hourNoted ? { from: l, to: l } : { from: run, to: run + runHours };
    return { defect: { from: soundAt, to: failure.to }, failure, entry: 0 };
  });
}
