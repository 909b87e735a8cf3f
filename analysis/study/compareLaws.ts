import { fitLaw } from "../estimation/fitLaw.ts";
import { lawQuantity } from "../estimation/lawQuantity.ts";
import type { LifeSample } from "../estimation/types.ts";
import type { LawChoice, LawComparison } from "./types.ts";

/** Every law that a life may be read from. */
export const lawChoices = [
  "weibull",
  "lognormal",
  "exponential",
  "loglogistic",
  "gamma",
  "generalised gamma",
  "smallest extreme value",
  "normal",
  "three-parameter weibull",
] as const satisfies readonly LawChoice[];

/** Those that are always compared; the others are fitted where they are chosen. */
const usualLaws: readonly LawChoice[] = ["weibull", "lognormal", "exponential", "loglogistic", "gamma"];

/**
 * Fits the usual life laws to the same lives and orders them by AICc (Hurvich & Tsai 1989, Biometrika 76, 297-307).
 * A law without a maximum is left out. For choosing how much to trust a reading, not for choosing the law by a hair.
 *
 * @param statedAge  Age in hours at which survival is read.
 * @param chosen     A law that is fitted too, usual or not.
 * Conventions       The laws that are not cut at 0 may have a B10 below 0.
 */
export function compareLaws(sample: LifeSample, statedAge: number, chosen: LawChoice = "weibull"): LawComparison[] {
  const fitted = [...new Set([...usualLaws, chosen])].flatMap((law) => {
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
