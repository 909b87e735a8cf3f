import { AnalysisError } from "../errors.ts";
import { chiSquareQuantile } from "../numerics/index.ts";
import type { LifeSample } from "./types.ts";
import { checkConfidence, checkQuantity, type WeibullQuantity } from "./weibullQuantity.ts";

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
    const isRanged = sample.lowerHigh[row] !== lower || sample.upperHigh[row] !== upper;
    if (isRanged || (!isExact && upper !== Number.POSITIVE_INFINITY)) {
      const kind = isRanged ? "ranged" : lower <= sample.entry[row]! ? "left" : "interval";
      const life = sample.ids?.[row] ?? String(row + 1);
      throw new AnalysisError("unsupported-censoring", { method: "fixed shape", life, kind });
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
  return {
    distribution: "weibull",
    shape,
    unit: sample.unit,
    failures,
    sumOfPowers,
    scale: failures > 0 ? (sumOfPowers / failures) ** (1 / shape) : null,
    logLikelihood:
      failures > 0
        ? failures * (Math.log(shape) + Math.log(failures / sumOfPowers) - 1) + (shape - 1) * sumLogAges
        : null,
  };
}

/**
 * One-sided chi-square bounds of the scale or of a quantile of a law with fixed shape, each at the given confidence.
 *
 * @param quantity  The scale, or the age by which a fraction has failed (0.1 is B10).
 * Errors           "bad-setting" for confidence or fraction out of range.
 */
export function fixedShapeBounds(
  fit: FixedShapeFit,
  quantity: Extract<WeibullQuantity, { kind: "scale" | "quantile" }>,
  confidence: number,
): FixedShapeBounds {
  checkConfidence(confidence);
  checkQuantity(quantity);
  const { shape, failures, sumOfPowers } = fit;
  const factor = quantity.kind === "scale" ? 1 : -Math.log1p(-quantity.failedFraction);
  const bound = (chiSquare: number): number => ((2 * sumOfPowers * factor) / chiSquare) ** (1 / shape);
  return {
    lower: bound(chiSquareQuantile(confidence, 2 * failures + 2)),
    upper: failures > 0 ? bound(chiSquareQuantile(1 - confidence, 2 * failures)) : null,
    confidence,
    method: "chi-square, time censored",
  };
}
