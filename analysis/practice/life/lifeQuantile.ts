import { lawFamilies } from "../../distributions/lawFamilies.ts";
import { standardQuantile } from "../../distributions/standard/standardQuantile.ts";
import { AnalysisError } from "../../errors.ts";
import { checkConfidence } from "../../estimation/weibullQuantity.ts";
import { normalQuantile } from "../../numerics/index.ts";
import type { LifeRegressionFound } from "../types.ts";

export interface LifeQuantile {
  /** Age by which `failedFraction` of such lives have failed. */
  readonly value: number;
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
  readonly confidence: number;
  readonly method: "wald" | "wald, by cluster";
}

/**
 * Age by which a fraction of the lives with given explanatory variables have failed, with its Wald bounds on the log scale.
 *
 * @param row      Values of the design's columns.
 * @param options  `robust`: by the covariance over clusters, where the fit has one.
 * Errors          "bad-setting" for a row of the wrong length, a fraction or confidence out of (0, 1), or `robust` without clusters.
 */
export function lifeQuantile(
  fit: LifeRegressionFound,
  row: ArrayLike<number>,
  failedFraction: number,
  { confidence = 0.9, robust = false }: { readonly confidence?: number; readonly robust?: boolean } = {},
): LifeQuantile {
  checkConfidence(confidence);
  const columns = fit.coefficients.length - 1;
  const refuse = (setting: string, value: string | number, allowed: string): never => {
    throw new AnalysisError("bad-setting", { setting, value, allowed });
  };
  if (row.length !== columns) refuse("row of the design", row.length, `${columns} values`);
  if (!(failedFraction > 0 && failedFraction < 1)) refuse("fraction failed", failedFraction, "between 0 and 1");
  const covariance = robust ? fit.robustCovariance : fit.covariance;
  if (!covariance) return refuse("robust", "asked for", "only with clusters");
  const w = standardQuantile(lawFamilies[fit.law].standard, Math.log1p(-failedFraction), Math.log(failedFraction), 0);
  const gradient = [1, ...Array.from(row)];
  if (fit.law !== "exponential") gradient.push(fit.spread * w);
  const logAge = fit.coefficients.reduce((sum, b, j) => sum + b * gradient[j]!, fit.spread * w);
  let variance = 0;
  gradient.forEach((a, i) => {
    gradient.forEach((b, j) => {
      variance += a * b * covariance.matrix[i]![j]!;
    });
  });
  const error = Math.sqrt(variance);
  const width = -normalQuantile(0.5 * (1 - confidence)) * error;
  const value = Math.exp(logAge);
  return {
    value,
    standardError: value * error,
    lower: value * Math.exp(-width),
    upper: value * Math.exp(width),
    confidence,
    method: robust ? "wald, by cluster" : "wald",
  };
}
