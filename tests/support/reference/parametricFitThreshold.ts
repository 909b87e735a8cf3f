import { z } from "zod";
import { lawFamilies } from "../../../analysis/distributions/lawFamilies.ts";
import { fitLaw } from "../../../analysis/estimation/fitLaw.ts";
import { lawBounds } from "../../../analysis/estimation/lawBounds.ts";
import { lawLikelihood } from "../../../analysis/estimation/lawLikelihood.ts";
import { lawStart } from "../../../analysis/estimation/lawStart.ts";
import { thresholdLimit } from "../../../analysis/estimation/lawSurface.ts";
import { atThreshold } from "../../../analysis/estimation/searchThreshold.ts";
import type { LifeSample } from "../../../analysis/estimation/types.ts";
import { countValues } from "./runCases.ts";
import type { Report } from "./types.ts";

const end = z.strictObject({ lower: z.number().nullable(), upper: z.number().nullable() });
const thresholdExpected = z.strictObject({
  minFailure: z.number(),
  profile: z.array(
    z.strictObject({ threshold: z.number(), profileLogLik: z.number(), shape: z.number(), scale: z.number() }),
  ),
  interiorLocalMaximum: z.boolean(),
  estimate: z.strictObject({
    shape: z.number(),
    scale: z.number(),
    threshold: z.number(),
    logLik: z.number(),
    maxAbsScore: z.number(),
    covarianceNatural: z.strictObject({ names: z.array(z.string()), matrix: z.array(z.array(z.number())) }),
    profileCIThreshold95: end,
    note: z.string().nullable(),
  }),
  unboundedInTheory: z.boolean(),
  profileRisingAtClosestGridPoint: z.boolean(),
  warning: z.string(),
});

/** The three-parameter Weibull fit: its profile over the threshold, its interior maximum and the threshold's bounds. */
export function compareThreshold(sample: LifeSample, values: unknown, report: Report): void {
  const expected = thresholdExpected.parse(values);
  const { estimate } = expected;
  const family = lawFamilies["three-parameter weibull"];
  const likelihood = lawLikelihood(sample, family);
  const limit = thresholdLimit(sample);
  report.compare("three-parameter first failure", limit, expected.minFailure);
  const start = lawStart(sample, family);
  const profile = expected.profile.map(({ threshold }) =>
    atThreshold(likelihood, sample, Math.log(limit - threshold), limit, [start[0], start[1]]),
  );
  profile.forEach((point, i) => {
    const at = expected.profile[i];
    if (!at) return;
    report.compare(
      `three-parameter profile at ${at.threshold}`,
      point && {
        profileLogLik: point.logLikelihood,
        shape: Math.exp(-point.theta[1]),
        scale: Math.exp(point.theta[0]),
      },
      { profileLogLik: at.profileLogLik, shape: at.shape, scale: at.scale },
    );
  });
  const [last, before] = [profile.at(-1), profile.at(-2)];
  const isRising = !!last && !!before && last.logLikelihood > before.logLikelihood;
  report.compare("three-parameter profile rises at the end", isRising, expected.profileRisingAtClosestGridPoint);

  const fit = fitLaw(sample, "three-parameter weibull");
  report.compare("three-parameter interior maximum", fit.maximum === "found", expected.interiorLocalMaximum);
  report.notCovered(
    "the reference's own diagnostics",
    countValues([estimate.maxAbsScore, estimate.note, expected.warning]),
  );
  if (fit.maximum !== "found") return;
  report.compare("three-parameter unbounded elsewhere", fit.unboundedElsewhere, expected.unboundedInTheory);
  const { shape, scale, threshold } = estimate;
  report.compare("three-parameter parameters", fit.parameters, { shape, scale, threshold });
  report.compare("three-parameter logLik", fit.logLikelihood, estimate.logLik);
  report.compare("three-parameter covariance", { ...fit.naturalCovariance }, estimate.covarianceNatural);
  const { lower, upper } = lawBounds(fit, sample, { kind: "parameter", name: "threshold" }, 0.95);
  report.compare("three-parameter threshold", { lower, upper }, estimate.profileCIThreshold95);
}
