import type { LawFamily, Theta } from "../distributions/lawFamilies.ts";
import { SECOND, TEN } from "../distributions/lawPoint.ts";
import type { Surface } from "./climbNewton.ts";
import type { LawLikelihood } from "./lawLikelihood.ts";
import type { LifeSample } from "./types.ts";

/** Beyond this |Q| the generalised gamma law is not followed: in doubles its density has a corner. */
export const LARGEST_Q = 10;

/** The free coordinates that are not held, in order. */
export const freeBut = (family: LawFamily, held: number | null): readonly (0 | 1 | 2)[] =>
  family.free.filter((index) => index !== held);

/** The likelihood as a function of some coordinates of theta, the others held as in `base`. */
export function lawSurface(
  likelihood: LawLikelihood,
  sample: LifeSample,
  base: Theta,
  free: readonly (0 | 1 | 2)[],
): Surface & { readonly theta: (at: readonly number[]) => Theta } {
  const out = new Float64Array(TEN);
  const theta = (at: readonly number[]): Theta => {
    const moved: [number, number, number] = [...base];
    free.forEach((index, i) => {
      moved[index] = at[i]!;
    });
    return moved;
  };
  const bound = boundOfThird(likelihood.family, sample);
  const m = free.length;
  return {
    dimension: m,
    theta,
    evaluate: (at, gradient, hessian) => {
      likelihood.evaluate(theta(at), out);
      for (let i = 0; i < m; i++) {
        gradient[i] = out[1 + free[i]!]!;
        for (let j = 0; j < m; j++) hessian[i * m + j] = out[SECOND[free[i]!]![free[j]!]!]!;
      }
      return out[0]!;
    },
    reach: (at, step) => {
      const sigma = Math.exp(theta(at)[1]);
      return reachOf(free, at, step, sigma, bound);
    },
  };
}

/** What the third coordinate must stay within. */
export interface ThirdBound {
  readonly lowest: number;
  readonly highest: number;
  /** Largest move in one step; null where the way to the bound alone counts. */
  readonly most: number | null;
}

export function boundOfThird(family: LawFamily, sample: LifeSample): ThirdBound {
  if (family.name === "generalised gamma") return { lowest: -LARGEST_Q, highest: LARGEST_Q, most: 1 };
  if (family.name === "three-parameter weibull") {
    const highest = thresholdLimit(sample);
    return { lowest: highest - FARTHEST * largestAge(sample), highest, most: null };
  }
  return { lowest: Number.NEGATIVE_INFINITY, highest: Number.POSITIVE_INFINITY, most: 2 };
}

/** The share of a step that keeps every coordinate within reason: 1.5 in log sigma, 5 sigma in mu, 0.9 of the way to a bound. */
export function reachOf(
  free: readonly (0 | 1 | 2)[],
  at: readonly number[],
  step: Float64Array,
  sigma: number,
  { lowest, highest, most }: ThirdBound,
): number {
  let share = 1;
  free.forEach((index, i) => {
    const size = Math.abs(step[i]!);
    if (size === 0) return;
    if (index === 0) share = Math.min(share, (5 * sigma) / size);
    else if (index === 1) share = Math.min(share, 1.5 / size);
    else {
      const room = step[i]! > 0 ? highest - at[i]! : at[i]! - lowest;
      share = Math.min(share, (0.9 * room) / size, most === null ? 1 : most / size);
    }
  });
  return share;
}

/** A threshold farther below, in largest ages, makes a law that is the smallest extreme value law in doubles. */
const FARTHEST = 1e4;

function largestAge(sample: LifeSample): number {
  let largest = 0;
  for (const column of [sample.lower, sample.lowerHigh, sample.upper, sample.upperHigh]) {
    for (const age of column) if (age < Number.POSITIVE_INFINITY && age > largest) largest = age;
  }
  return largest;
}

/** The age that a threshold must stay below: the first failure at a known age, or the first age at which one was found. */
export function thresholdLimit(sample: LifeSample): number {
  let limit = Number.POSITIVE_INFINITY;
  for (let row = 0; row < sample.n; row++) {
    const isExact = sample.lower[row] === sample.upper[row] && sample.lowerHigh[row] === sample.upperHigh[row];
    limit = Math.min(limit, isExact ? sample.lower[row]! : sample.upper[row]!);
  }
  return limit;
}
