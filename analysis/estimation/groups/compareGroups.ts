import { AnalysisError } from "../../errors.ts";
import { chiSquareUpperTail } from "../../numerics/index.ts";
import { fitWeibull } from "../fitWeibull.ts";
import type { LifeSample, Maximum } from "../types.ts";
import { climbShape } from "./climbShape.ts";
import { mergeSamples } from "./mergeSamples.ts";
import { shapeProfile } from "./shapeProfile.ts";

/** A likelihood ratio of two nested models. */
export interface LikelihoodRatio {
  /** Twice the difference of the log likelihoods, >= 0; null where one model has no maximum. */
  readonly statistic: number | null;
  readonly degreesOfFreedom: number;
  /** P(chi-square > statistic). */
  readonly pValue: number | null;
}

export interface GroupComparison {
  readonly unit: string;
  readonly groups: readonly {
    readonly name: string;
    readonly failures: number;
    readonly maximum: Maximum;
    /** Of its own law. */
    readonly shape: number | null;
    readonly scale: number | null;
    /** With the shape that all share; null where that has no maximum, or where nothing failed in this group. */
    readonly scaleAtCommonShape: number | null;
  }[];
  readonly commonShape: number | null;
  readonly commonLaw: { readonly shape: number; readonly scale: number } | null;
  readonly logLikelihood: {
    readonly ownLaws: number | null;
    readonly commonShape: number | null;
    readonly commonLaw: number | null;
  };
  /** Own laws against own scales with one shape. */
  readonly sameShape: LikelihoodRatio;
  /** Own scales with one shape against one law: the same life, taking the shape as common. */
  readonly sameLife: LikelihoodRatio;
  /** Own laws against one law. */
  readonly sameLaw: LikelihoodRatio;
}

/**
 * Likelihood ratio tests among groups of lives, Weibull: do they share a shape, do they share a life?
 *
 * @param groups  Two or more, in one unit. A group without a failure has no law of its own, so the tests that need one are null;
 *                with the common shape it counts at the limit of an ever longer life.
 * Errors         "bad-setting" for fewer than two groups or mixed units; "bad-life" as `fitWeibull`.
 * Accuracy       p from the chi-square limit: with fewer than about five failures a group it is a guide only.
 * Source         Lawless (2003), section 5.4 (comparison of Weibull distributions).
 */
export function compareGroups(
  groups: readonly { readonly name: string; readonly sample: LifeSample }[],
): GroupComparison {
  if (groups.length < 2) throw new AnalysisError("bad-setting", { setting: "groups", value: groups.length });
  const merged = mergeSamples(groups.map(({ sample }) => sample));
  const together = fitWeibull(merged);
  const own = groups.map(({ sample }) => fitWeibull(sample));
  const profiles = groups.map(({ sample }) => shapeProfile(sample));
  const start = together.maximum === "found" ? together.shape : 1;
  const common = climbShape(profiles, start);
  const ownLaws = own.every((fit) => fit.maximum === "found")
    ? own.reduce((sum, fit) => sum + (fit.maximum === "found" ? fit.logLikelihood : 0), 0)
    : null;
  const commonLaw = together.maximum === "found" ? together.logLikelihood : null;
  const steps = groups.length - 1;
  return {
    unit: merged.unit,
    groups: own.map((fit, index) => {
      const scale = common ? profiles[index]!(Math.log(common.shape)).scale : Number.POSITIVE_INFINITY;
      return {
        name: groups[index]!.name,
        failures: fit.counts.failures,
        maximum: fit.maximum,
        shape: fit.maximum === "found" ? fit.shape : null,
        scale: fit.maximum === "found" ? fit.scale : null,
        scaleAtCommonShape: Number.isFinite(scale) ? scale : null,
      };
    }),
    commonShape: common?.shape ?? null,
    commonLaw: together.maximum === "found" ? { shape: together.shape, scale: together.scale } : null,
    logLikelihood: { ownLaws, commonShape: common?.logLikelihood ?? null, commonLaw },
    sameShape: ratioOf(ownLaws, common?.logLikelihood ?? null, steps),
    sameLife: ratioOf(common?.logLikelihood ?? null, commonLaw, steps),
    sameLaw: ratioOf(ownLaws, commonLaw, 2 * steps),
  };
}

/** Errors of rounding may put the larger model a hair below the smaller: 0. */
export function ratioOf(larger: number | null, smaller: number | null, degreesOfFreedom: number): LikelihoodRatio {
  if (larger === null || smaller === null) return { statistic: null, degreesOfFreedom, pValue: null };
  const statistic = Math.max(0, 2 * (larger - smaller));
  return { statistic, degreesOfFreedom, pValue: chiSquareUpperTail(statistic, degreesOfFreedom) };
}
