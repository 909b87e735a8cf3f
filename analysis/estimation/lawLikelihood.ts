/** Log likelihood of any law of `lawFamilies.ts` for any mix of lives, with all first and second derivatives. */
import type { LawFamily, Theta } from "../distributions/lawFamilies.ts";
import { type LawPoint, lawPoint, TEN } from "../distributions/lawPoint.ts";
import { tabulatedTails } from "../distributions/standard/tabulatedTails.ts";
import { MANY_LIVES } from "./condensedSample.ts";
import { logAverageBetween, type RangedLife } from "./logAverageBetween.ts";
import { logProbabilityBetween } from "./logProbabilityBetween.ts";
import type { LifeSample } from "./types.ts";

export interface LawLikelihood {
  readonly family: LawFamily;
  readonly point: LawPoint;
  /**
   * Writes [value, mu, s, q, mu mu, mu s, s s, mu q, s q, q q] to `out`, theta = (mu, s = log sigma, q = third).
   * The value is -Infinity, and the derivatives meaningless, where the data are impossible in doubles.
   */
  evaluate(theta: Theta, out: Float64Array): void;
}

/**
 * Compiles a sample for a law; like lives are merged.
 *
 *   exact log f(t); right log S(lower); interval log [S(lower) - S(upper)]; left log F(upper); each less log S(entry);
 *   ranges averaged over, uniformly: an exact age in a range adds log {[S(low) - S(high)] / width}
 *
 * @param sample  Checked by `lifeSample`; failures at ages above 0.
 * Conventions    All density terms are kept, on the scale of ages. An age of 0 bounds nothing, also for laws on the whole line.
 * Source         Lawless (2003), section 2.4; Meeker & Escobar (1998), section 2.4.
 */
export function lawLikelihood(sample: LifeSample, family: LawFamily): LawLikelihood {
  const { standard } = family;
  const point = lawPoint(sample.n > MANY_LIVES ? { ...family, standard: tabulatedTails(standard) } : family);
  const densities = new Map<number, number>();
  const survivals = new Map<number, number>();
  const spans = new Map<string, { readonly from: number; readonly to: number; count: number }>();
  const ranged = new Map<string, RangedLife & { count: number }>();
  let constant = 0;
  const addTo = (map: Map<number, number>, age: number, weight: number): void => {
    if (age > 0) map.set(age, (map.get(age) ?? 0) + weight);
  };
  const addSpan = (from: number, to: number, count: number): void => {
    const key = `${from}|${to}`;
    const known = spans.get(key);
    if (known) known.count += count;
    else spans.set(key, { from, to, count });
  };
  for (let row = 0; row < sample.n; row++) {
    const count = sample.count[row]!;
    const lower = sample.lower[row]!;
    const lowerHigh = sample.lowerHigh[row]!;
    const upper = sample.upper[row]!;
    const upperHigh = sample.upperHigh[row]!;
    addTo(survivals, sample.entry[row]!, -count);
    if (lower === upper && lowerHigh === upperHigh) {
      if (lower === lowerHigh) addTo(densities, lower, count);
      else {
        addSpan(lower, lowerHigh, count);
        constant -= count * Math.log(lowerHigh - lower);
      }
    } else if (lower === lowerHigh && upper === upperHigh) {
      if (upper === Number.POSITIVE_INFINITY) addTo(survivals, lower, count);
      else addSpan(lower, upper, count);
    } else {
      const key = `${lower}|${lowerHigh}|${upper}|${upperHigh}`;
      const known = ranged.get(key);
      if (known) known.count += count;
      else ranged.set(key, { lower, lowerHigh, upper, upperHigh, count });
    }
  }

  const columns = (map: Map<number, number>): { ages: Float64Array; weights: Float64Array } => {
    const entries = [...map.entries()].filter(([, weight]) => weight !== 0);
    return {
      ages: Float64Array.from(entries, ([age]) => age),
      weights: Float64Array.from(entries, ([, weight]) => weight),
    };
  };
  const exact = columns(densities);
  const sound = columns(survivals);
  const between = logProbabilityBetween(point);
  const average = logAverageBetween(point, between);
  const intervals = [...spans.values()];
  const averaged = [...ranged.values()];
  const one = new Float64Array(TEN);

  return {
    family,
    point,
    evaluate: (theta, out) => {
      out.fill(0, 0, TEN);
      out[0] = constant;
      const add = (weight: number): void => {
        for (let k = 0; k < TEN; k++) out[k] = out[k]! + weight * one[k]!;
      };
      for (let i = 0; i < exact.ages.length; i++) {
        point.logDensity(exact.ages[i]!, theta, one);
        add(exact.weights[i]!);
      }
      for (let i = 0; i < sound.ages.length; i++) {
        point.logSurvival(sound.ages[i]!, theta, one);
        add(sound.weights[i]!);
      }
      for (const { from, to, count } of intervals) {
        between(from, to, theta, one);
        add(count);
      }
      for (const life of averaged) {
        average(life, theta, one);
        add(life.count);
      }
      // NaN is one infinity less another; far below, derivatives overflow before the value does.
      let isUsable = out[0]! > -1e250;
      for (let k = 1; k < TEN; k++) isUsable &&= Number.isFinite(out[k]!);
      if (!isUsable || !(out[0]! < Number.POSITIVE_INFINITY)) out[0] = Number.NEGATIVE_INFINITY;
    },
  };
}
