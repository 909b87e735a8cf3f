import type { LifeSample } from "../types.ts";
import { type WeibullLikelihood, weibullLikelihood } from "../weibullLikelihood.ts";

/** The log likelihood at one log shape, re-maximised over the scale. */
export interface ShapeProfilePoint {
  readonly value: number;
  /** First and second derivative by log shape. */
  readonly slope: number;
  readonly bend: number;
  /** Where the maximum over the scale lies. */
  readonly scale: number;
}

export type ShapeProfile = (logShape: number) => ShapeProfilePoint;

/**
 * The profile of log shape, from one likelihood after another near the last answer.
 * Without a failure every shape fits as well as another in the limit of an ever longer life: value, slope and bend are 0, scale Infinity.
 *
 * Source  Envelope theorem: slope = shape * l_k; bend = shape * l_k + shape^2 (l_kk - l_kl^2 / l_ll), k the shape, l the level.
 */
export function shapeProfile(sample: LifeSample): ShapeProfile {
  if (!sample.upper.some((upper) => upper !== Number.POSITIVE_INFINITY)) {
    return () => ({ value: 0, slope: 0, bend: 0, scale: Number.POSITIVE_INFINITY });
  }
  const likelihood = weibullLikelihood(sample);
  let last: { shape: number; level: number } | null = null;
  return (logShape) => {
    const shape = Math.exp(logShape);
    const start: number = last ? (last.level * shape) / last.shape : 0;
    const { level, at } = bestLevel(likelihood, shape, start);
    last = { shape, level };
    const [value = 0, dShape = 0, , shapeShape = 0, shapeLevel = 0, levelLevel = 0] = at;
    return {
      value,
      slope: shape * dShape,
      bend: shape * dShape + shape * shape * (shapeShape - (shapeLevel * shapeLevel) / levelLevel),
      scale: Math.exp(likelihood.center - level / shape),
    };
  };
}

/** Newton's method over the level at a fixed shape, where the likelihood of known ages is concave. */
export function bestLevel(
  likelihood: WeibullLikelihood,
  shape: number,
  start: number,
): { readonly level: number; readonly at: Float64Array } {
  let level = start;
  let at = new Float64Array(6);
  let next = new Float64Array(6);
  likelihood.evaluate(shape, level, at);
  for (let back = 0; back < 2_000 && !Number.isFinite(at[0]!); back++) {
    // Every life becomes possible, in doubles, for a law that lasts long enough.
    level -= 2 + 0.1 * back;
    likelihood.evaluate(shape, level, at);
  }
  for (let iteration = 0; iteration < 200; iteration++) {
    const value = at[0]!;
    const gradient = at[2]!;
    const curvature = at[5]!;
    let step = curvature < 0 ? Math.max(-4, Math.min(4, -gradient / curvature)) : Math.sign(gradient);
    const decrement = Math.abs(gradient * step);
    let climbed = false;
    for (let halving = 0; halving < 50 && !climbed; halving++) {
      likelihood.evaluate(shape, level + step, next);
      climbed = next[0]! >= value - 1e-13 * Math.abs(value);
      if (!climbed) step *= 0.5;
    }
    if (!climbed) return { level, at };
    level += step;
    [at, next] = [next, at];
    if (curvature < 0 && decrement < 1e-16) return { level, at };
  }
  return { level, at };
}
