import { AnalysisError } from "../../errors.ts";
import { fitWeighted } from "../bootstrap/fitWeighted.ts";
import { type WeightedLikelihood, weightedLikelihood } from "../bootstrap/weightedLikelihood.ts";
import type { LifeSample } from "../types.ts";
import { typicalFailureAge } from "../weibullLikelihood.ts";

export interface Pattern {
  readonly shape: number;
  readonly scale: number;
}

/** Two Weibull laws mixed: a fraction of lives follows the early one from the start. */
export interface TwoPatterns {
  readonly earlyFraction: number;
  readonly early: Pattern;
  readonly main: Pattern;
  readonly logLikelihood: number;
  readonly iterations: number;
  /** A pattern ran against the largest shape allowed: the likelihood has no maximum inside. */
  readonly isOnTheEdge: boolean;
}

export interface Stopping {
  readonly gain: number;
  readonly most: number;
}

/** No pattern is believed to be steeper: without a limit, one that gathers on a single exact failure has an infinite likelihood. */
export const STEEPEST = 15;
const STARTS = [0.15, 0.4];

/**
 * EM for two Weibull patterns mixed. Each life belongs to either with a probability; both laws are fitted with these as weights.
 *
 * @param one            The law of all lives, from which fits start.
 * @param stopping       `gain`: stops where an iteration gains less log likelihood than this; `most` iterations.
 * @returns              The better of two starts (failures split at 15 % and at 40 % by age); null where none stayed inside.
 * Errors                "unsupported-censoring" for late entry: the fraction among the survivors would change with it.
 * Source                Dempster, Laird & Rubin (1977), J. Royal Statist. Soc. B 39, 1-38; Meeker & Escobar (1998), section 11.4.
 */
export function fitTwoPatterns(
  sample: LifeSample,
  one: Pattern,
  stopping: Stopping = { gain: 1e-8, most: 3_000 },
): TwoPatterns | null {
  const late = sample.entry.findIndex((entry) => entry > 0);
  if (late >= 0) {
    throw new AnalysisError("unsupported-censoring", {
      method: "two patterns",
      life: sample.ids?.[late] ?? String(late + 1),
      kind: "late",
    });
  }
  const likelihood = weightedLikelihood(sample);
  const ages = Array.from({ length: sample.n }, (_, row) => typicalFailureAge(sample, row));
  const failures = ages.filter((age) => age !== null).sort((a, b) => a - b);
  let best: TwoPatterns | null = null;
  for (const share of STARTS) {
    const split = failures[Math.floor(share * failures.length)];
    if (split === undefined) continue;
    const early = Float64Array.from(ages, (age) => (age === null ? 0.05 : age < split ? 0.9 : 0.1));
    const climbed = climb(sample, likelihood, early, one, stopping);
    if (climbed && (best === null || climbed.logLikelihood > best.logLikelihood)) best = climbed;
  }
  return best;
}

function climb(
  sample: LifeSample,
  likelihood: WeightedLikelihood,
  early: Float64Array,
  one: Pattern,
  { gain, most }: Stopping,
): TwoPatterns | null {
  const { n, center } = likelihood;
  const total = sample.count.reduce((sum, count) => sum + count, 0);
  const from = { shape: one.shape, level: one.shape * (center - Math.log(one.scale)) };
  let laws = [from, from];
  let last = Number.NEGATIVE_INFINITY;
  let fraction = 0.5;
  let isOnTheEdge = false;
  const weights = new Float64Array(n);
  const six = new Float64Array(6);
  for (let iteration = 1; iteration <= most; iteration++) {
    const next: { shape: number; level: number }[] = [];
    isOnTheEdge = false;
    for (const which of [0, 1]) {
      for (let row = 0; row < n; row++)
        weights[row] = sample.count[row]! * (which === 0 ? early[row]! : 1 - early[row]!);
      // From the law of all lives where the last law was no start.
      const fit = fitWeighted(likelihood, weights, laws[which]!, gain) ?? fitWeighted(likelihood, weights, from, gain);
      if (fit && fit.shape <= STEEPEST) next.push({ shape: fit.shape, level: fit.level });
      else {
        isOnTheEdge = true;
        next.push(atSteepest(likelihood, weights, laws[which]!));
      }
    }
    fraction = 0;
    for (let row = 0; row < n; row++) fraction += (sample.count[row]! * early[row]!) / total;
    laws = next;
    let logLikelihood = 0;
    for (let row = 0; row < n; row++) {
      const [first, second] = laws.map(({ shape, level }) => {
        six.fill(0);
        likelihood.addLife(row, 1, shape, level, six);
        return six[0]!;
      }) as [number, number];
      const a = Math.log(fraction) + first;
      const b = Math.log1p(-fraction) + second;
      const high = Math.max(a, b);
      const sum = high + Math.log(Math.exp(a - high) + Math.exp(b - high));
      early[row] = Math.exp(a - sum);
      logLikelihood += sample.count[row]! * sum;
    }
    if (!Number.isFinite(logLikelihood)) return null;
    if (logLikelihood - last < gain && iteration > 5) {
      return ordered(laws, fraction, center, { logLikelihood, iterations: iteration, isOnTheEdge });
    }
    last = logLikelihood;
  }
  return ordered(laws, fraction, center, { logLikelihood: last, iterations: most, isOnTheEdge });
}

/** The best level at the steepest shape allowed: a few Newton steps in one dimension. */
function atSteepest(
  likelihood: WeightedLikelihood,
  weights: Float64Array,
  near: { readonly shape: number; readonly level: number },
): { shape: number; level: number } {
  const six = new Float64Array(6);
  let level = (near.level * STEEPEST) / near.shape;
  for (let step = 0; step < 60; step++) {
    likelihood.evaluate(weights, STEEPEST, level, six);
    const change = six[5]! < 0 ? Math.max(-2, Math.min(2, -six[2]! / six[5]!)) : -1;
    level += Number.isFinite(change) ? change : -1;
    if (Math.abs(change) < 1e-10) break;
  }
  return { shape: STEEPEST, level };
}

function ordered(
  laws: readonly { readonly shape: number; readonly level: number }[],
  fraction: number,
  center: number,
  rest: Pick<TwoPatterns, "logLikelihood" | "iterations" | "isOnTheEdge">,
): TwoPatterns {
  const [first, second] = laws.map(({ shape, level }) => ({ shape, scale: Math.exp(center - level / shape) })) as [
    Pattern,
    Pattern,
  ];
  const median = ({ shape, scale }: Pattern): number => scale * Math.LN2 ** (1 / shape);
  return median(first) <= median(second)
    ? { earlyFraction: fraction, early: first, main: second, ...rest }
    : { earlyFraction: 1 - fraction, early: second, main: first, ...rest };
}
