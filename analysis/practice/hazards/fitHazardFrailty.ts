import type { CovarianceMatrix } from "../../estimation/fitLaw.ts";
import { checkConfidence } from "../../estimation/weibullQuantity.ts";
import { chiSquareQuantile, chiSquareUpperTail, digamma, findRoot, logGamma } from "../../numerics/index.ts";
import type { ProportionalHazards, ProportionalHazardsFound, ProportionalHazardsInput, RatioBounds } from "../types.ts";
import { fitProportionalHazards } from "./fitProportionalHazards.ts";
import { type FrailtyFits, type FrailtyPoint, frailtyPartialLikelihood } from "./frailtyPartialLikelihood.ts";

export interface HazardFrailtyInput extends Omit<ProportionalHazardsInput, "penalty"> {
  /** Tool of each row. */
  readonly clusters: readonly string[];
  /** Of the bounds. */
  readonly confidence?: number;
}

export interface HazardFrailtyFound {
  readonly maximum: "found";
  readonly names: readonly string[];
  /** exp(coefficient) multiplies the hazard of a tool. */
  readonly coefficients: readonly number[];
  /** Of the coefficients, at the estimated variance. */
  readonly covariance: CovarianceMatrix;
  /** Of the frailty over tools, whose mean is 1; a lower bound of 0 means that the tools may all be alike. */
  readonly frailtyVariance: number;
  readonly varianceBounds: RatioBounds;
  /** Log partial likelihood averaged over the frailties; comparable with that of the plain fit. */
  readonly marginalLogLikelihood: number;
  readonly withoutSpread: ProportionalHazardsFound;
  /** No spread? 2 log ratio; its p is half that of chi-square on 1 degree, for a variance cannot be negative. */
  readonly spreadTest: { readonly chiSquare: number; readonly pValue: number };
  /** Above 1 fails sooner. */
  readonly tools: readonly { readonly name: string; readonly frailty: number; readonly failures: number }[];
}

export type HazardFrailty =
  | HazardFrailtyFound
  /** The marginal likelihood is largest with all tools alike. */
  | { readonly maximum: "no spread between tools"; readonly withoutSpread: ProportionalHazardsFound }
  | { readonly maximum: Exclude<ProportionalHazards["maximum"], "found">; readonly withoutSpread: ProportionalHazards };

/** Variances between which the largest marginal likelihood is sought. */
const SMALLEST = 1e-4;
const LARGEST = 100;

/**
 * Proportional hazards with a gamma frailty shared by the rows of a tool: how much do tools differ beyond what is written down?
 *
 * @param input  As of `fitProportionalHazards`. The cost grows with rows x (columns + tools)^2: some hundred tools.
 * Errors        Those of `fitProportionalHazards`; "bad-setting" for a confidence out of (0, 1).
 * Accuracy      Variance to 1e-9 of its logarithm.
 * Source        Therneau, Grambsch & Pankratz (2003), J. Comp. Graph. Statist. 12, 156-175; Nielsen et al. (1992), Scand. J.
 *               Statist. 19, 25-43; the half chi-square: Self & Liang (1987), J. Amer. Statist. Assoc. 82.
 */
export function fitHazardFrailty(input: HazardFrailtyInput): HazardFrailty {
  const { confidence = 0.9, design } = input;
  checkConfidence(confidence);
  const plain = fitProportionalHazards(input);
  if (plain.maximum !== "found") return { maximum: plain.maximum, withoutSpread: plain };
  const fits = frailtyPartialLikelihood(input, "gamma");
  const slope = (logVariance: number): number => slopeByPrecision(fits, fits.at(Math.exp(logVariance)));
  // More precision is less variance: the likelihood still rises towards no spread where the slope by precision is above 0.
  const bracket = bracketOf(slope);
  if (bracket === null) return { maximum: "no spread between tools", withoutSpread: plain };
  const point = fits.at(Math.exp(findRoot(slope, bracket[0], bracket[1], { tolerance: 1e-9 })));
  if (!point.isFound) return { maximum: "not converged", withoutSpread: plain };
  const marginal = marginalLogLikelihood(fits, point);
  const chiSquare = Math.max(0, 2 * (marginal - plain.logLikelihood));
  const k = design.names.length;
  const m = k + fits.tools.length;
  return {
    maximum: "found",
    names: design.names,
    coefficients: point.coefficients,
    covariance: {
      names: design.names,
      matrix: design.names.map((_, i) => design.names.map((_, j) => point.inverse[i * m + j]!)),
    },
    frailtyVariance: point.variance,
    varianceBounds: varianceBounds(fits, point, marginal, chiSquare, confidence),
    marginalLogLikelihood: marginal,
    withoutSpread: plain,
    spreadTest: { chiSquare, pValue: chiSquare > 0 ? 0.5 * chiSquareUpperTail(chiSquare, 1) : 1 },
    tools: fits.tools.map((name, c) => ({
      name,
      frailty: Math.exp(point.logFrailties[c]!),
      failures: fits.failures[c]!,
    })),
  };
}

/**
 * Log partial likelihood averaged over gamma frailties, from the penalised fit at precision r = 1 / v: with d failures a tool,
 *   penalised + sum [(r + d) - (r + d) log(r + d) + r log r + log Gamma(r + d) - log Gamma(r)]
 */
export function marginalLogLikelihood(
  { failures }: FrailtyFits,
  { variance, logLikelihood, penalty }: FrailtyPoint,
): number {
  const r = 1 / variance;
  return failures.reduce(
    (sum, d) => sum + (r + d) * (1 - Math.log(r + d)) + r * Math.log(r) + logGamma(r + d) - logGamma(r),
    logLikelihood - penalty,
  );
}

/** Its derivative by r: the penalised fit is at its top, so only what names r counts. */
function slopeByPrecision({ failures }: FrailtyFits, { variance, logFrailties }: FrailtyPoint): number {
  const r = 1 / variance;
  return logFrailties.reduce((sum, w, c) => {
    const d = failures[c]!;
    return sum + w - Math.exp(w) + 1 + Math.log(r / (r + d)) + digamma(r + d) - digamma(r);
  }, 0);
}

/** Log variances between which the slope changes from below 0 to above it; null where it rises all the way to no spread. */
function bracketOf(slope: (logVariance: number) => number): readonly [number, number] | null {
  let low = Math.log(0.3);
  let high = low;
  const isRising = slope(low) < 0;
  if (isRising) {
    while (slope(high) < 0 && high < Math.log(LARGEST)) high += 1;
    return slope(high) < 0 ? null : [high - 1, high];
  }
  while (slope(low) >= 0) {
    if (low < Math.log(SMALLEST)) return null;
    low -= 1;
  }
  return [low, low + 1];
}

function varianceBounds(
  fits: FrailtyFits,
  top: FrailtyPoint,
  marginal: number,
  chiSquare: number,
  confidence: number,
): RatioBounds {
  const cut = chiSquareQuantile(confidence, 1);
  const center = Math.log(top.variance);
  const over = (logVariance: number): number =>
    2 * (marginal - marginalLogLikelihood(fits, fits.at(Math.exp(logVariance)))) - cut;
  const end = (side: 1 | -1, limit: number): number | null => {
    for (let reach = 0.5; reach < 12; reach *= 1.6) {
      const outside = center + side * reach;
      if (side * (outside - limit) > 0) return null;
      if (over(outside) > 0) {
        const inside = center + (side * reach) / 1.6;
        const from = over(inside) < 0 ? inside : center;
        return Math.exp(findRoot(over, from, outside, { tolerance: 1e-8 }));
      }
    }
    return null;
  };
  return {
    name: "frailty variance",
    estimate: top.variance,
    // At a variance of 0 the likelihood is that of the plain fit: where even that is within the bounds, 0 is the lower one.
    lower: chiSquare < cut ? 0 : end(-1, Math.log(SMALLEST) - 2),
    upper: end(1, Math.log(LARGEST) + 2),
    confidence,
    method: "likelihood ratio",
  };
}
