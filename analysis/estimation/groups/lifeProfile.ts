import type { LifeSample } from "../types.ts";
import { type WeibullLikelihood, weibullLikelihood } from "../weibullLikelihood.ts";

export interface LifeProfilePoint {
  readonly value: number;
  /** First and second derivative by the log life. */
  readonly slope: number;
  readonly bend: number;
  readonly shape: number;
}

/** The log likelihood with the log of one quantile held at `u`, re-maximised over the shape. */
export type LifeProfile = (u: number) => LifeProfilePoint;

/**
 * The profile of the log age by which a fraction has failed.
 *
 * @param start  Shape of the estimate; each answer is the start of the next.
 * Source        level = z - shape (u - center), z = log(-log(1 - fraction)); envelope theorem for slope and bend.
 */
export function lifeProfile(sample: LifeSample, failedFraction: number, start: number): LifeProfile {
  const likelihood = weibullLikelihood(sample);
  const z = Math.log(-Math.log1p(-failedFraction));
  let last = start;
  return (u) => {
    const reach = u - likelihood.center;
    const { shape, at } = bestShape(likelihood, z, reach, last);
    last = Math.max(shape, 1e-3 * start);
    const [value = 0, dShape = 0, dLevel = 0, shapeShape = 0, shapeLevel = 0, levelLevel = 0] = at;
    const along = shapeShape - 2 * reach * shapeLevel + reach * reach * levelLevel;
    const across = -dLevel - shape * (shapeLevel - reach * levelLevel);
    const residual = dShape - reach * dLevel;
    const slope = -shape * dLevel;
    // At the edge (shape to 0) the inner score is not 0 and the shape does not move.
    const isInside = Math.abs(residual * shape) < 1e-4 * (1 + Math.abs(value));
    return {
      value,
      slope,
      bend: shape * shape * levelLevel - (isInside && along < 0 ? across ** 2 / along : 0),
      shape,
    };
  };
}

function bestShape(
  likelihood: WeibullLikelihood,
  z: number,
  reach: number,
  start: number,
): { readonly shape: number; readonly at: Float64Array } {
  let shape = start;
  let at = new Float64Array(6);
  let next = new Float64Array(6);
  likelihood.evaluate(shape, z - shape * reach, at);
  for (let back = 0; back < 80 && !Number.isFinite(at[0]!); back++) {
    shape *= 0.5;
    likelihood.evaluate(shape, z - shape * reach, at);
  }
  for (let iteration = 0; iteration < 200; iteration++) {
    const value = at[0]!;
    const gradient = at[1]! - reach * at[2]!;
    const curvature = at[3]! - 2 * reach * at[4]! + reach * reach * at[5]!;
    const newton = curvature < 0 ? -gradient / curvature : Math.sign(gradient) * shape;
    const decrement = Math.abs(gradient * newton);
    let step = Math.max(-0.8 * shape, Math.min(4 * shape, newton));
    let climbed = false;
    for (let halving = 0; halving < 50 && !climbed; halving++) {
      likelihood.evaluate(shape + step, z - (shape + step) * reach, next);
      climbed = next[0]! >= value - 1e-13 * Math.abs(value);
      if (!climbed) step *= 0.5;
    }
    if (!climbed) return { shape, at };
    shape += step;
    [at, next] = [next, at];
    if (curvature < 0 && decrement < 1e-16) return { shape, at };
    if (shape < 1e-9 * start) return { shape, at };
  }
  return { shape, at };
}
