import type { WeightedLikelihood } from "./weightedLikelihood.ts";

/** A maximum in (shape, level), with the six numbers of the likelihood there. */
export interface WeightedFit {
  readonly shape: number;
  readonly level: number;
  readonly at: Float64Array;
}

const MOST_STEPS = 25;

/**
 * Newton's method from a start that is already near, in (shape, level), where the log likelihood of untruncated lives with known ages is
 * concave. Built to be fast: it gives up, rather than search, where the surface is not concave or steps do not settle.
 *
 * @param start    For instance the maximum of the whole sample.
 * @returns        Null where it gave up: the caller fits with `fitWeibull`, which says why there is no maximum.
 * @param enough   The last step is taken where the log likelihood has less than half of this left to gain.
 * Accuracy        That last step squares the error.
 */
export function fitWeighted(
  likelihood: WeightedLikelihood,
  weights: Float64Array,
  start: { readonly shape: number; readonly level: number },
  enough = 1e-9,
): WeightedFit | null {
  let { shape, level } = start;
  let at = new Float64Array(6);
  let next = new Float64Array(6);
  likelihood.evaluate(weights, shape, level, at);
  for (let iteration = 0; iteration < MOST_STEPS; iteration++) {
    const [value = 0, dShape = 0, dLevel = 0, shapeShape = 0, shapeLevel = 0, levelLevel = 0] = at;
    const determinant = shapeShape * levelLevel - shapeLevel * shapeLevel;
    if (!(Number.isFinite(value) && levelLevel < 0 && determinant > 1e-13 * shapeShape * levelLevel)) return null;
    const stepShape = -(levelLevel * dShape - shapeLevel * dLevel) / determinant;
    const stepLevel = -(shapeShape * dLevel - shapeLevel * dShape) / determinant;
    const decrement = dShape * stepShape + dLevel * stepLevel;
    let size = Math.min(1, (stepShape < 0 ? 0.7 : 2) * Math.abs(shape / stepShape));
    let climbed = false;
    for (let halving = 0; halving < 30 && !climbed; halving++) {
      likelihood.evaluate(weights, shape + size * stepShape, level + size * stepLevel, next);
      climbed = next[0]! >= value - 1e-12 * Math.abs(value);
      if (!climbed) size *= 0.5;
    }
    if (!climbed) return null;
    shape += size * stepShape;
    level += size * stepLevel;
    [at, next] = [next, at];
    if (decrement < enough && size === 1) return { shape, level, at };
  }
  return null;
}
