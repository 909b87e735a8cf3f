import type { Theta } from "../distributions/lawFamilies.ts";
import { climbNewton } from "./climbNewton.ts";
import type { Top } from "./fitLaw.ts";
import { type LawLikelihood, lawLikelihood } from "./lawLikelihood.ts";
import { lawSurface, thresholdLimit } from "./lawSurface.ts";
import type { LifeSample } from "./types.ts";

export interface ProfileOfThreshold {
  /** log(limit - threshold), limit the first known failure: both ends of the range are far away on this scale. */
  readonly logGap: number;
  readonly logLikelihood: number;
  readonly theta: Theta;
}

/** The likelihood with the threshold held, maximised over the other two. */
export function atThreshold(
  likelihood: LawLikelihood,
  sample: LifeSample,
  logGap: number,
  limit: number,
  from: readonly [number, number],
  tolerance = 1e-17,
): ProfileOfThreshold | null {
  const surface = lawSurface(likelihood, sample, [0, 0, limit - Math.exp(logGap)], [0, 1]);
  const climbed = climbNewton(surface, from, { tolerance });
  if (!climbed.converged) return null;
  return { logGap, logLikelihood: climbed.value, theta: surface.theta(climbed.at) };
}

/** The other two parameters for another gap: the same ages of 20 % and 63 %, roughly. */
export function moved({ theta }: ProfileOfThreshold, limit: number, logGap: number): [number, number] {
  const [mu, logSigma, threshold] = theta;
  const next = limit - Math.exp(logGap);
  const sigma = Math.exp(logSigma);
  const late = threshold + Math.exp(mu) - next;
  const early = threshold + Math.exp(mu - 1.5 * sigma) - next;
  if (!(early > 0 && late > early)) return [mu, logSigma];
  return [Math.log(late), Math.log(Math.log(late / early) / 1.5)];
}

/** Steps of log(first failure - threshold). */
const STEP = 0.25;
/** With many lives the profile is smooth, and each point costs more. */
const WIDE_STEP = 0.5;
/** Good enough to compare neighbours. */
const ROUGH = 1e-9;

/**
 * The largest interior maximum over the threshold; null where the profile only rises towards an end. Towards the first
 * failure at a known age the likelihood is unbounded (shape below 1), so that end is never an answer; towards minus infinity
 * it tends to that of the smallest extreme value law.
 *
 * @param few  The same lives condensed, or the sample itself, as in `searchQ`.
 */
export function searchThreshold(
  likelihood: LawLikelihood,
  sample: LifeSample,
  few: LifeSample,
  start: Theta,
): Top | null {
  if (few !== sample) {
    const near = bestOfProfile(lawLikelihood(few, likelihood.family), few, start, WIDE_STEP);
    if (near !== null) {
      const surface = lawSurface(likelihood, sample, [0, 0, 0], [0, 1, 2]);
      // A condensed first failure may lie later than the first one, and the threshold between them.
      const [mu, logSigma, threshold] = near.theta;
      const limit = thresholdLimit(sample);
      const climbed = threshold < limit ? climbNewton(surface, [mu, logSigma, threshold]) : null;
      if (climbed?.converged && Math.abs(Math.log((limit - climbed.at[2]!) / (limit - threshold))) < 1)
        return { climbed, theta: surface.theta(climbed.at) };
    }
  }
  return bestOfProfile(likelihood, sample, start, few === sample ? STEP : WIDE_STEP);
}

function bestOfProfile(likelihood: LawLikelihood, sample: LifeSample, start: Theta, step: number): Top | null {
  const limit = thresholdLimit(sample);
  const spread = Math.exp(start[0]);
  const atZero = Math.log(limit);
  const points: ProfileOfThreshold[] = [];
  const walk = (from: ProfileOfThreshold, to: number): void => {
    const side = Math.sign(to - from.logGap);
    let last = from;
    for (let logGap = from.logGap + side * step; side * (to - logGap) >= 0; logGap += side * step) {
      const next = atThreshold(likelihood, sample, logGap, limit, moved(last, limit, logGap), ROUGH);
      if (!next) return;
      points.push(next);
      // With a shape below 1 and the likelihood rising towards the first failure it rises without bound.
      if (side < 0 && next.theta[1] > 0 && next.logLikelihood > last.logLikelihood) return;
      last = next;
    }
  };
  const first = atThreshold(likelihood, sample, atZero, limit, [start[0], start[1]]);
  if (!first) return null;
  points.push(first);
  walk(first, Math.max(atZero, Math.log(spread)) + 8);
  walk(first, atZero - 20);
  points.sort((a, b) => a.logGap - b.logGap);
  let best: Top | null = null;
  for (let i = 1; i < points.length - 1; i++) {
    const { logLikelihood, theta } = points[i]!;
    if (logLikelihood < points[i - 1]!.logLikelihood || logLikelihood < points[i + 1]!.logLikelihood) continue;
    const surface = lawSurface(likelihood, sample, [0, 0, 0], [0, 1, 2]);
    const climbed = climbNewton(surface, theta);
    const top = { climbed, theta: surface.theta(climbed.at) };
    const gap = limit - top.theta[2];
    const isInside = gap > Math.exp(points[0]!.logGap) && Math.abs(Math.log(gap) - points[i]!.logGap) < 3 * step;
    if (climbed.converged && isInside && (best === null || climbed.value > best.climbed.value)) best = top;
  }
  return best;
}
