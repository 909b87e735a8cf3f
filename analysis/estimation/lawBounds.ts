import { lawFamilies } from "../distributions/lawFamilies.ts";
import { chiSquareQuantile } from "../numerics/index.ts";
import type { LawFound } from "./fitLaw.ts";
import { lawCurve } from "./lawCurve.ts";
import { lawLikelihood } from "./lawLikelihood.ts";
import { lawProfile } from "./lawProfile.ts";
import { checkLawQuantity, type LawQuantity } from "./lawQuantity.ts";
import type { ProfileBounds } from "./profileBounds.ts";
import { thresholdEnd } from "./thresholdEnd.ts";
import type { LifeSample } from "./types.ts";
import { checkConfidence } from "./weibullQuantity.ts";

/**
 * Likelihood-ratio bounds of a quantity of any law: the values at which twice the drop of the log likelihood, re-maximised with
 * the quantity held there, is the chi-square quantile with one degree of freedom.
 *
 * @param fit         Fitted to the same `sample`.
 * @param confidence  Two-sided, 0 < confidence < 1.
 * @returns           A null end is open: the profile never falls that far on that side (Q: not within |Q| <= 10; threshold:
 *                    not before the profile turns up again towards the first known failure). The value of a mean that the
 *                    fitted law does not have is Infinity, and both ends are null.
 * Conventions        The generalised gamma likelihood is re-maximised over |Q| <= 10. A three-parameter Weibull bound is
 *                    null, too, where the interior ridge of its likelihood ends before the drop is reached.
 * Errors             "bad-setting" for a confidence, parameter, fraction or age out of range.
 * Accuracy           Root of the drop to 1e-10.
 * Source             Meeker & Escobar (1998), sections 8.3.2-8.3.3; Lawless (2003), section 5.1.2.
 */
export function lawBounds(fit: LawFound, sample: LifeSample, quantity: LawQuantity, confidence: number): ProfileBounds {
  const family = lawFamilies[fit.law];
  checkConfidence(confidence);
  checkLawQuantity(family, quantity);
  const likelihood = lawLikelihood(sample, family);
  const drop = 0.5 * chiSquareQuantile(confidence, 1);
  const curve = lawCurve(family, quantity);
  const estimate = curve.transformed(fit.theta);
  const common = { value: curve.untransformed(estimate), confidence, method: "likelihood ratio" } as const;
  if (!Number.isFinite(estimate)) return { ...common, lower: null, upper: null };
  const [low, high] = ([-1, 1] as const).map((side): number | null =>
    quantity.kind === "parameter" && quantity.name === "threshold"
      ? thresholdEnd(likelihood, sample, fit, side, drop)
      : lawProfile(likelihood, sample, fit, curve).end(side, drop),
  );
  const lower = low === null || low === undefined ? null : curve.untransformed(low);
  const upper = high === null || high === undefined ? null : curve.untransformed(high);
  return curve.isDecreasing ? { ...common, lower: upper, upper: lower } : { ...common, lower, upper };
}
