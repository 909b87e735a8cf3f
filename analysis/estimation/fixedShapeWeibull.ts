import { AnalysisError } from "../errors.ts";
import { chiSquareQuantile } from "../numerics/index.ts";
import type { LifeSample } from "./types.ts";
import { checkConfidence } from "./weibullQuantity.ts";

export interface FixedShapeBounds {
  /** In the unit of age. */
  readonly lower: number;
  /** Null without failures: nothing bounds it. */
  readonly upper: number | null;
  /** One-sided confidence of each. */
  readonly confidence: number;
  readonly method: "chi-square, time censored";
}

export interface FixedShapeFit {
  readonly distribution: "weibull";
  readonly shape: number;
  readonly unit: string;
  readonly failures: number;
  /** Sum over lives of count * (exit^shape - entry^shape). */
  readonly sumOfPowers: number;
  /** Null without failures. */
  readonly scale: number | null;
  /** All density terms kept; null without failures. */
  readonly logLikelihood: number | null;
  /** One-sided bounds of the scale, each at this confidence. */
  scaleBounds(confidence: number): FixedShapeBounds;
  /** The same for the age by which a fraction has failed; 0.1 is B10. */
  quantileBounds(failedFraction: number, confidence: number): FixedShapeBounds;
}

/**
 * Weibull law with a shape taken from elsewhere, down to no failures at all: (T / scale)^shape is exponential, so the
 * total of t^shape carries all information about the scale.
 *
 *   scale^shape = total / r;   lower: 2 total / chi-square(confidence; 2r + 2);   upper: 2 total / chi-square(1 - confidence; 2r)
 *
 * @param sample  Exact and right-censored lives, left truncation allowed; with r failures, r >= 0.
 * @param shape   > 0; the answer is only as good as this number.
 * Conventions    Bounds hold for tests that end by age (time censored); the lower one is conservative otherwise.
 * Errors         "unsupported-censoring" for lives between looks or with ranged ages; "bad-setting" for shape,
 *                confidence or fraction out of range, or no exposure at all.
 * Source         Nelson (1985), J. Quality Technology 17, 140-146; Meeker & Escobar (1998), section 8.6.
 */
export function fixedShapeWeibull(sample: LifeSample, shape: number): FixedShapeFit {
  if (!(shape > 0 && Number.isFinite(shape)))
    throw new AnalysisError("bad-setting", { setting: "shape", value: String(shape) });
  let failures = 0;
  let sumOfPowers = 0;
  let sumLogAges = 0;
  for (let row = 0; row < sample.n; row++) {
    const lower = sample.lower[row]!;
    const upper = sample.upper[row]!;
    const isExact = upper === lower;
    if ((!isExact && upper !== Number.POSITIVE_INFINITY) || sample.lowerHigh[row] !== lower) {
      throw new AnalysisError("unsupported-censoring", {
        method: "fixed shape",
        row: row + 1,
        unit: sample.unit,
        lower,
      });
    }
    const count = sample.count[row]!;
    sumOfPowers += count * (lower ** shape - sample.entry[row]! ** shape);
    if (isExact) {
      if (lower === 0) {
        const id = sample.ids?.[row] ?? null;
        throw new AnalysisError("bad-life", { row: row + 1, id, column: "upper", value: "0", why: "failed at age 0" });
      }
      failures += count;
      sumLogAges += count * Math.log(lower);
    }
  }
  if (!(sumOfPowers > 0)) throw new AnalysisError("bad-setting", { setting: "exposure", value: sumOfPowers });
  const scaleFrom = (total: number): number => total ** (1 / shape);
  const scaleBounds = (confidence: number): FixedShapeBounds => {
    checkConfidence(confidence);
    return {
      lower: scaleFrom((2 * sumOfPowers) / chiSquareQuantile(confidence, 2 * failures + 2)),
      upper: failures > 0 ? scaleFrom((2 * sumOfPowers) / chiSquareQuantile(1 - confidence, 2 * failures)) : null,
      confidence,
      method: "chi-square, time censored",
    };
  };
  return {
    distribution: "weibull",
    shape,
    unit: sample.unit,
    failures,
    sumOfPowers,
    scale: failures > 0 ? scaleFrom(sumOfPowers / failures) : null,
    logLikelihood:
      failures > 0
        ? failures * (Math.log(shape) + Math.log(failures / sumOfPowers) - 1) + (shape - 1) * sumLogAges
        : null,
    scaleBounds,
    quantileBounds: (failedFraction, confidence) => {
      if (!(failedFraction > 0 && failedFraction < 1)) {
        throw new AnalysisError("bad-setting", { setting: "failedFraction", value: String(failedFraction) });
      }
      const factor = (-Math.log1p(-failedFraction)) ** (1 / shape);
      const { lower, upper, ...rest } = scaleBounds(confidence);
      return { ...rest, lower: factor * lower, upper: upper === null ? null : factor * upper };
    },
  };
}
