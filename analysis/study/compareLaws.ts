import { fitLaw } from "../estimation/fitLaw.ts";
import { lawQuantity } from "../estimation/lawQuantity.ts";
import type { LifeSample } from "../estimation/types.ts";
import type { LawComparison } from "./types.ts";

const laws = ["weibull", "lognormal", "exponential", "loglogistic", "gamma"] as const;

/**
 * Fits the usual life laws to the same lives and orders them by AICc (Hurvich & Tsai 1989, Biometrika 76, 297-307).
 * A law without a maximum is left out. For choosing how much to trust a reading, not for choosing the law by a hair.
 *
 * @param statedAge  Age in hours at which survival is read.
 */
export function compareLaws(sample: LifeSample, statedAge: number): LawComparison[] {
  const fitted = laws.flatMap((law) => {
    const fit = fitLaw(sample, law);
    if (fit.maximum !== "found" || fit.criteria.aicc === null) return [];
    const quantile = (failedFraction: number) => lawQuantity(fit, { kind: "quantile", failedFraction });
    return [
      {
        law,
        logLikelihood: fit.logLikelihood,
        aicc: fit.criteria.aicc,
        b10: quantile(0.1),
        median: quantile(0.5),
        reliability: lawQuantity(fit, { kind: "survival", age: statedAge }),
      },
    ];
  });
  const best = Math.min(...fitted.map(({ aicc }) => aicc));
  return fitted.map((row) => ({ ...row, worseBy: row.aicc - best })).sort((a, b) => a.worseBy - b.worseBy);
}
