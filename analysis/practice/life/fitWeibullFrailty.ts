import { climbNewton } from "../../estimation/climbNewton.ts";
import type { CovarianceMatrix } from "../../estimation/fitLaw.ts";
import { checkConfidence } from "../../estimation/weibullQuantity.ts";
import { chiSquareQuantile, chiSquareUpperTail } from "../../numerics/index.ts";
import { factorPositive } from "../common/factorPositive.ts";
import { profileEnd } from "../common/profileEnd.ts";
import { standardiseDesign } from "../common/standardiseDesign.ts";
import { unboundedCoefficients } from "../common/unboundedCoefficients.ts";
import type { LifeRegressionFound, LifeRegressionInput, LifeRegressionNotFound, RatioBounds } from "../types.ts";
import { fitLifeRegression } from "./fitLifeRegression.ts";
import { frailtyClusters } from "./frailtyClusters.ts";
import { FIRST_COLUMN, LEVEL, LOG_SHAPE, LOG_VARIANCE } from "./frailtyPlaces.ts";
import { frailtySurface } from "./frailtySurface.ts";

export interface WeibullFrailtyInput extends Pick<LifeRegressionInput, "sample" | "design" | "maxIterations"> {
  /** Tool of each life. */
  readonly clusters: readonly string[];
  /** Of the bounds. */
  readonly confidence?: number;
}

export interface WeibullFrailtyFound {
  readonly maximum: "found";
  /** Hazard u (shape / scale) (t / scale)^(shape - 1) exp(x'b); scale where every column is 0 and u = 1. */
  readonly shape: number;
  readonly scale: number;
  /** Of u over tools, whose mean is 1. */
  readonly frailtyVariance: number;
  readonly names: readonly string[];
  /** exp(coefficient) multiplies the hazard; exp(-coefficient / shape) multiplies life. */
  readonly coefficients: readonly number[];
  /** Inverse information in (logShape, logScale, logVariance, columns). */
  readonly covariance: CovarianceMatrix;
  /** A lower bound of 0: the lives agree with tools that are all alike. */
  readonly varianceBounds: RatioBounds;
  readonly coefficientBounds: readonly RatioBounds[];
  readonly logLikelihood: number;
  /** The same lives without a spread between tools. */
  readonly withoutSpread: LifeRegressionFound;
  /** No spread? 2 log ratio; its p is half that of chi-square on 1 degree, for a variance cannot be negative. */
  readonly spreadTest: { readonly chiSquare: number; readonly pValue: number };
  /** Mean of u given the lives of the tool; above 1 fails sooner. */
  readonly tools: readonly { readonly name: string; readonly frailty: number; readonly lives: number }[];
  readonly iterations: number;
  readonly largestScore: number;
}

export type WeibullFrailty =
  | WeibullFrailtyFound
  /** The likelihood is largest with all tools alike. */
  | { readonly maximum: "no spread between tools"; readonly withoutSpread: LifeRegressionFound }
  | {
      readonly maximum: LifeRegressionNotFound["maximum"];
      readonly withoutSpread: LifeRegressionNotFound | LifeRegressionFound;
    };

/**
 * Weibull regression with a gamma frailty shared by the lives of a tool: how much do tools differ beyond what is written down?
 *
 * @param input  Lives of any kind but with ages in ranges.
 * Errors        "unsupported-censoring" for an age in a range; those of `fitLifeRegression`.
 * Accuracy      Newton's method on analytic derivatives; a tool's integral to 1e-12.
 * Source        Klein (1992), Biometrics 48, 795-806; the half chi-square: Self & Liang (1987), J. Amer. Statist. Assoc. 82.
 */
export function fitWeibullFrailty(input: WeibullFrailtyInput): WeibullFrailty {
  const { sample, design, clusters, confidence = 0.9 } = input;
  checkConfidence(confidence);
  const plain = fitLifeRegression({ ...input, law: "weibull" });
  if (plain.maximum !== "found") return { maximum: plain.maximum, withoutSpread: plain };
  const groups = frailtyClusters(sample, clusters);
  const standard = standardiseDesign(design, sample.count);
  const surface = frailtySurface(sample, standard, groups);
  const shape = 1 / plain.spread;
  const center = plain.coefficients.reduce((sum, b, j) => sum + (j === 0 ? b : b * standard.means[j - 1]!), 0);
  const slopes = plain.coefficients.slice(1).map((b, j) => -b * shape * standard.ranges[j]!);
  const climbed = climbNewton(surface, [Math.log(shape), -shape * center, Math.log(0.3), ...slopes], input);
  if (surface.isAtEdge?.(climbed.at) || (climbed.converged && climbed.value < plain.logLikelihood - 1e-9)) {
    return { maximum: "no spread between tools", withoutSpread: plain };
  }
  const m = surface.dimension;
  const information = climbed.hessian.map((value) => -value);
  if (unboundedCoefficients(information, m, FIRST_COLUMN, standard.columns).length > 0) {
    return { maximum: "separated", withoutSpread: plain };
  }
  const inverse = factorPositive(information, m)?.inverse();
  if (!climbed.converged || !inverse) return { maximum: "not converged", withoutSpread: plain };
  const { at, value } = climbed;
  const ranges = standard.ranges;
  const coefficients = at.slice(FIRST_COLUMN).map((b, j) => b / ranges[j]!);
  const level = at[LEVEL]! - coefficients.reduce((sum, b, j) => sum + b * standard.means[j]!, 0);
  const fittedShape = Math.exp(at[LOG_SHAPE]!);
  const logScale = -level / fittedShape;
  const chiSquare = Math.max(0, 2 * (value - plain.logLikelihood));
  const drop = 0.5 * chiSquareQuantile(confidence, 1);
  const end = (place: number, side: 1 | -1): number | null =>
    profileEnd(surface, { at, value, inverse }, place, drop, side);
  const scaledEnd = (j: number, side: 1 | -1): number | null => {
    const found = end(FIRST_COLUMN + j, side);
    return found === null ? null : found / ranges[j]!;
  };
  // At a variance of 0 the profile is that of the plain regression: where even that is within the bounds, 0 is the lower one.
  const lowest = chiSquare < 2 * drop ? Number.NEGATIVE_INFINITY : end(LOG_VARIANCE, -1);
  const highest = end(LOG_VARIANCE, 1);
  const frailties = surface.frailties(at);
  return {
    maximum: "found",
    shape: fittedShape,
    scale: Math.exp(logScale),
    frailtyVariance: Math.exp(at[LOG_VARIANCE]!),
    names: design.names,
    coefficients,
    covariance: {
      names: ["logShape", "logScale", "logVariance", ...design.names],
      matrix: transformed(inverse, fittedShape, logScale, standard.means, ranges),
    },
    varianceBounds: {
      name: "frailty variance",
      estimate: Math.exp(at[LOG_VARIANCE]!),
      lower: lowest === null ? null : Math.exp(lowest),
      upper: highest === null ? null : Math.exp(highest),
      confidence,
      method: "likelihood ratio",
    },
    coefficientBounds: design.names.map((name, j) => ({
      name,
      estimate: coefficients[j]!,
      lower: scaledEnd(j, -1),
      upper: scaledEnd(j, 1),
      confidence,
      method: "likelihood ratio",
    })),
    logLikelihood: value,
    withoutSpread: plain,
    spreadTest: { chiSquare, pValue: chiSquare > 0 ? 0.5 * chiSquareUpperTail(chiSquare, 1) : 1 },
    tools: groups.map(({ name, exact, interval, right }, i) => ({
      name,
      frailty: frailties[i]!,
      lives: [...exact, ...interval, ...right].reduce((sum, row) => sum + sample.count[row]!, 0),
    })),
    iterations: climbed.iterations,
    largestScore: Math.max(...climbed.gradient.map((slope, i) => Math.abs(slope) * Math.sqrt(inverse[i * m + i]!))),
  };
}

/** From (log shape, level, log variance, standardised b) to (log shape, log scale, log variance, b). */
function transformed(
  inverse: Float64Array,
  shape: number,
  logScale: number,
  means: Float64Array,
  ranges: Float64Array,
): number[][] {
  const m = FIRST_COLUMN + means.length;
  const rows = Array.from({ length: m }, (_, i) => {
    const row = new Array<number>(m).fill(0);
    if (i === LEVEL) {
      // log scale = -(level - sum b' mean / range) / shape
      row[LEVEL] = -1 / shape;
      row[LOG_SHAPE] = -logScale;
      means.forEach((mean, j) => {
        row[FIRST_COLUMN + j] = mean / ranges[j]! / shape;
      });
    } else row[i] = i >= FIRST_COLUMN ? 1 / ranges[i - FIRST_COLUMN]! : 1;
    return row;
  });
  return rows.map((left) =>
    rows.map((right) => {
      let sum = 0;
      for (let a = 0; a < m; a++) for (let b = 0; b < m; b++) sum += left[a]! * inverse[a * m + b]! * right[b]!;
      return sum;
    }),
  );
}
