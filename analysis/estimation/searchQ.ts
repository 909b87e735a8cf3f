import type { Theta } from "../distributions/lawFamilies.ts";
import { climbNewton } from "./climbNewton.ts";
import type { Top } from "./fitLaw.ts";
import { type LawLikelihood, lawLikelihood } from "./lawLikelihood.ts";
import { LARGEST_Q, lawSurface } from "./lawSurface.ts";
import type { LifeSample } from "./types.ts";

/** Values of Q, outwards from the lognormal law, at which the other two parameters are re-maximised. */
const STEPS = [0.5, 1, 1.5, 2, 3, 4, 6, 8, LARGEST_Q];
/** With many lives the profile is smooth, and each point costs more. */
const FEW_STEPS = [1, 2, 4, LARGEST_Q];

/** Good enough to compare neighbours: the value is then right to half of it. */
const ROUGH = 1e-9;
/** A gain of the log likelihood below this is none. */
const FLAT = 1e-6;

export interface ProfileOfQ {
  readonly q: number;
  readonly logLikelihood: number;
  readonly theta: Theta;
}

/** Log likelihood of the generalised gamma law maximised at each Q of a grid from -10 to 10, in order. */
export function profileOfQ(
  likelihood: LawLikelihood,
  sample: LifeSample,
  start: Theta,
  steps: readonly number[] = STEPS,
): readonly ProfileOfQ[] {
  const at = (q: number, from: Theta): ProfileOfQ => {
    const surface = lawSurface(likelihood, sample, [from[0], from[1], q], [0, 1]);
    const climbed = climbNewton(surface, [from[0], from[1]], { tolerance: ROUGH });
    return { q, logLikelihood: climbed.value, theta: surface.theta(climbed.at) };
  };
  const middle = at(0, start);
  const walk = (side: 1 | -1): ProfileOfQ[] => {
    const points: ProfileOfQ[] = [];
    let from = middle.theta;
    for (const step of steps) {
      const next = at(side * step, from);
      points.push(next);
      if (Number.isFinite(next.logLikelihood)) from = next.theta;
    }
    return points;
  };
  return [...walk(-1).reverse(), middle, ...walk(1)];
}

/**
 * The maximum of the generalised gamma likelihood over |Q| <= 10; null where the likelihood is highest at an end of that range:
 * then no finite maximum can be reported, for in the limit the law has a sharp end at the first or last failure.
 *
 * @param few  The same lives condensed, or the sample itself. The profile is drawn of these; only where they show no
 *             maximum is it drawn of all.
 */
export function searchQ(likelihood: LawLikelihood, sample: LifeSample, few: LifeSample, start: Theta): Top | null {
  if (few === sample) return bestOfProfile(likelihood, sample, start, STEPS);
  const near = bestOfProfile(lawLikelihood(few, likelihood.family), few, start, FEW_STEPS);
  const top = near?.climbed.converged ? climbFrom(likelihood, sample, near.theta) : null;
  return top?.climbed.converged ? top : bestOfProfile(likelihood, sample, start, FEW_STEPS);
}

function bestOfProfile(
  likelihood: LawLikelihood,
  sample: LifeSample,
  start: Theta,
  steps: readonly number[],
): Top | null {
  const profile = profileOfQ(likelihood, sample, start, steps);
  let best = 0;
  profile.forEach(({ logLikelihood }, i) => {
    if (logLikelihood > profile[best]!.logLikelihood) best = i;
  });
  const top = profile[best]!.logLikelihood;
  // Towards a limit the likelihood is flat in doubles: an end as high as the best point is no maximum inside.
  const isHighest = ({ logLikelihood }: ProfileOfQ): boolean => logLikelihood >= top - FLAT;
  if (isHighest(profile[0]!) || isHighest(profile.at(-1)!)) return null;
  return climbFrom(likelihood, sample, profile[best]!.theta);
}

function climbFrom(likelihood: LawLikelihood, sample: LifeSample, from: Theta): Top | null {
  const surface = lawSurface(likelihood, sample, [0, 0, 0], [0, 1, 2]);
  const climbed = climbNewton(surface, from);
  const theta = surface.theta(climbed.at);
  return Math.abs(theta[2]) > 0.99 * LARGEST_Q ? null : { climbed, theta };
}
