import { weibull } from "../distributions/weibull.ts";
import { fitLinked, type LinkedFit } from "../estimation/linked/fitLinked.ts";
import { boundsOnContour, type LawContour, lawContour } from "../estimation/linked/lawContour.ts";
import type { Life } from "../lives/types.ts";
import { linkedHistories } from "./linkedHistories.ts";
import type { ShopData } from "./shopData.ts";
import type { CurveOnGrid, Estimate, ItemLifeResult, LinkedModes, StudyDefinition } from "./types.ts";

type Law = { readonly shape: number; readonly scale: number };

/** The defect's law with bounds of anything asked of it, and the delay, where the joint likelihood has its maximum. */
export interface JointFit {
  readonly linked: LinkedModes;
  readonly fit: LinkedFit;
  readonly defect: { readonly law: Law; readonly contour: LawContour } | null;
}

/** Fits a defect and the failure it leads to together. */
export function fitJointly(
  names: { readonly defect: string; readonly failure: string },
  defects: readonly Life[],
  failures: readonly Life[],
  data: ShopData,
  { missingHours, confidence }: StudyDefinition,
): JointFit | null {
  const { histories, withoutDefect } = linkedHistories(defects, failures, data, missingHours);
  if (histories.length === 0) return null;
  const fit = fitLinked(histories);
  const counts = {
    ...names,
    histories: fit.counts.histories,
    defects: fit.counts.defects,
    failures: fit.counts.failures,
    withoutDefect,
  };
  if (fit.maximum !== "found") return { fit, linked: { ...counts, delay: null }, defect: null };
  const read = fit.delaySettled
    ? estimator(fit.delay, lawContour(fit, histories, "delay", confidence), confidence)
    : null;
  return {
    fit,
    defect: { law: fit.defect, contour: lawContour(fit, histories, "defect", confidence) },
    linked: {
      ...counts,
      delay: read && {
        shape: read((law) => law.shape, "none"),
        scale: read((law) => law.scale, "h"),
        tenth: read((law) => weibull(law).quantile(0.1), "h"),
        median: read((law) => weibull(law).quantile(0.5), "h"),
      },
    },
  };
}

function estimator({ shape, scale }: Law, contour: LawContour, confidence: number) {
  return (quantity: (law: Law) => number, unit: Estimate["unit"]): Estimate => ({
    value: quantity({ shape, scale }),
    ...boundsOnContour(contour, quantity),
    confidence,
    method: "likelihood ratio",
    unit,
  });
}

/** The parts of an Item life result that a jointly fitted defect fills from its own law. */
export function jointReadings(
  joint: JointFit,
  statedAge: number,
  confidence: number,
): Pick<ItemLifeResult, "fit" | "readings"> | null {
  if (joint.defect === null || joint.fit.maximum !== "found") return null;
  const { law, contour } = joint.defect;
  const read = estimator(law, contour, confidence);
  const { logLikelihood, iterations, largestScore } = joint.fit;
  return {
    fit: {
      distribution: "weibull",
      shape: read((at) => at.shape, "none"),
      scale: read((at) => at.scale, "h"),
      logLikelihood,
      iterations,
      largestScore,
    },
    readings: {
      b10: read((at) => weibull(at).quantile(0.1), "h"),
      median: read((at) => weibull(at).quantile(0.5), "h"),
      mean: read((at) => weibull(at).mean, "h"),
      statedAge,
      reliability: read((at) => weibull(at).survival(statedAge), "fraction"),
    },
  };
}

export function jointSurvival(joint: JointFit, ages: readonly number[]): CurveOnGrid | null {
  if (joint.defect === null) return null;
  const { law, contour } = joint.defect;
  const bounds = ages.map((age) => boundsOnContour(contour, (at) => weibull(at).survival(age)));
  return {
    age: [...ages],
    value: ages.map((age) => weibull(law).survival(age)),
    lower: bounds.map(({ lower }) => lower ?? 0),
    upper: bounds.map(({ upper }) => upper ?? 1),
  };
}
