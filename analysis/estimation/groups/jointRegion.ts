import { chiSquareQuantile, findRoot } from "../../numerics/index.ts";
import type { WeibullFound } from "../fitWeibull.ts";
import type { LifeSample } from "../types.ts";
import { weibullLikelihood } from "../weibullLikelihood.ts";
import { checkConfidence } from "../weibullQuantity.ts";

export interface JointRegion {
  readonly estimate: { readonly shape: number; readonly scale: number };
  /** The closed outline, in order; the first point is not repeated. A null point: open in that direction. */
  readonly outline: readonly ({ readonly shape: number; readonly scale: number } | null)[];
  readonly confidence: number;
  readonly method: "likelihood ratio, two degrees of freedom";
}

/**
 * Joint confidence region of shape and scale: all laws for which twice the drop of the log likelihood is at most the chi-square
 * quantile with two degrees of freedom. Found along rays from the estimate in (shape, level), where the log likelihood of
 * untruncated lives with known ages is concave, so that each ray leaves the region once.
 *
 * @param points  Rays; 90 by default.
 * Accuracy       The drop at each point to about 1e-9. With truncation or ranges a ray's first crossing is taken.
 * Errors         "bad-setting" for a confidence out of range.
 * Source         Meeker & Escobar (1998), section 8.3.1; Lawless (2003), section 5.1.2.
 */
export function jointRegion(fit: WeibullFound, sample: LifeSample, confidence: number, points = 90): JointRegion {
  checkConfidence(confidence);
  const likelihood = weibullLikelihood(sample);
  const cut = 0.5 * chiSquareQuantile(confidence, 2);
  const center = { shape: fit.shape, level: fit.shape * (likelihood.center - Math.log(fit.scale)) };
  const at = new Float64Array(6);
  likelihood.evaluate(center.shape, center.level, at);
  const top = at[0]!;
  // Inverse root of the information, so that rays are even where the likelihood is normal: L L' = information, ray = L'^-1 e.
  const l11 = Math.sqrt(-at[3]!);
  const l21 = -at[4]! / l11;
  const l22 = Math.sqrt(-at[5]! - l21 * l21);
  const outline = Array.from({ length: points }, (_, index) => {
    const angle = (2 * Math.PI * index) / points;
    const second = Math.sin(angle) / l22;
    const first = (Math.cos(angle) - l21 * second) / l11;
    const drop = (distance: number): number => {
      const shape = center.shape + distance * first;
      if (shape <= 0) return Number.POSITIVE_INFINITY;
      likelihood.evaluate(shape, center.level + distance * second, at);
      return Math.min(1e6, top - at[0]!) - cut;
    };
    const edge = first < 0 ? (-center.shape / first) * (1 - 1e-9) : Number.POSITIVE_INFINITY;
    let inside = 0;
    let outside = Math.min(edge, 0.5 * Math.sqrt(2 * cut));
    while (drop(outside) < 0) {
      if (outside === edge || outside > 1e6) return null;
      inside = outside;
      outside = Math.min(edge, outside * 1.5);
    }
    const distance = findRoot(drop, inside, outside, { tolerance: 1e-12 });
    const shape = center.shape + distance * first;
    const level = center.level + distance * second;
    return { shape, scale: Math.exp(likelihood.center - level / shape) };
  });
  return {
    estimate: { shape: fit.shape, scale: fit.scale },
    outline,
    confidence,
    method: "likelihood ratio, two degrees of freedom",
  };
}
