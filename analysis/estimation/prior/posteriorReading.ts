import { findRoot, logGamma } from "../../numerics/index.ts";
import { checkConfidence, checkQuantity, untransformed, type WeibullQuantity } from "../weibullQuantity.ts";
import type { PosteriorNode, ShapePosterior } from "./shapePosterior.ts";

export interface PosteriorReading {
  /** Middle of the posterior. */
  readonly median: number;
  /** Ends of the middle `probability` of the posterior. */
  readonly lower: number;
  readonly upper: number;
  readonly probability: number;
  readonly method: "prior on shape";
}

/**
 * Median and equal-tailed bounds of a quantity in the posterior.
 *
 * Errors    "bad-setting" for a probability, fraction or age out of range.
 * Accuracy  Root of the posterior distribution function to 1e-9 on the log scale (log(-log) for survival).
 */
export function posteriorReading(
  posterior: ShapePosterior,
  quantity: WeibullQuantity,
  probability: number,
): PosteriorReading {
  checkConfidence(probability);
  checkQuantity(quantity);
  const tail = 0.5 * (1 - probability);
  const [low, middle, high] = [tail, 0.5, 1 - tail].map((share) =>
    untransformed(quantity, quantileOf(posterior, quantity, share)),
  ) as [number, number, number];
  const [lower, upper] = quantity.kind === "survival" ? [high, low] : [low, high];
  return { median: middle, lower, upper, probability, method: "prior on shape" };
}

/** Posterior probability that the transformed quantity (`transformedQuantity`) is at most u. */
export function posteriorBelow(posterior: ShapePosterior, quantity: WeibullQuantity, u: number): number {
  const { center, nodes } = posterior;
  if (quantity.kind === "shape") return shapeBelow(nodes, u);
  let sum = 0;
  for (const { shape, weight, level } of nodes) {
    if (weight < 1e-16) continue;
    switch (quantity.kind) {
      case "survival":
        // log(-log S) = shape (log age - center) + level grows with the level.
        sum += weight * level.below(u - shape * (Math.log(quantity.age) - center));
        break;
      default: {
        const z =
          quantity.kind === "scale"
            ? 0
            : quantity.kind === "mean"
              ? shape * logGamma(1 + 1 / shape)
              : Math.log(-Math.log1p(-quantity.failedFraction));
        // log life = center + (z - level) / shape falls with the level.
        sum += weight * (1 - level.below(z - shape * (u - center)));
      }
    }
  }
  return sum;
}

function quantileOf(posterior: ShapePosterior, quantity: WeibullQuantity, share: number): number {
  const over = (u: number): number => posteriorBelow(posterior, quantity, u) - share;
  const start = quantity.kind === "shape" ? posterior.prior.mean : quantity.kind === "survival" ? 0 : posterior.center;
  let low = start - 1;
  let high = start + 1;
  while (over(low) > 0 && low > start - 700) low -= 2 * (high - low);
  while (over(high) < 0 && high < start + 700) high += 2 * (high - low);
  return findRoot(over, low, high, { tolerance: 1e-10 });
}

/**
 * P(log shape <= u): trapezoid sums with the Euler-Maclaurin correction at the nodes, a cubic with the right slopes between.
 */
function shapeBelow(nodes: readonly PosteriorNode[], u: number): number {
  const first = Math.log(nodes[0]!.shape);
  const step = Math.log(nodes[1]!.shape) - first;
  const place = (u - first) / step;
  if (place <= 0) return 0;
  if (place >= nodes.length - 1) return 1;
  const i = Math.floor(place);
  let before = 0;
  for (let j = 0; j < i; j++) before += nodes[j]!.weight;
  const weightAt = (j: number): number => nodes[j]?.weight ?? 0;
  const corrected = (j: number, sum: number): number =>
    sum + 0.5 * weightAt(j) - (weightAt(j + 1) - weightAt(j - 1)) / 24;
  const [low, high] = [corrected(i, before), corrected(i + 1, before + weightAt(i))];
  const x = place - i;
  const rise = x * x * (3 - 2 * x);
  return low + (high - low) * rise + weightAt(i) * x * (1 - x) ** 2 - weightAt(i + 1) * x * x * (1 - x);
}
