import { answerWithPrior } from "../estimation/prior/answerWithPrior.ts";
import type { PosteriorReading } from "../estimation/prior/posteriorReading.ts";
import { type ShapePrior, shapePrior } from "../estimation/prior/shapePrior.ts";
import type { LifeSample } from "../estimation/types.ts";
import { weibullLikelihood } from "../estimation/weibullLikelihood.ts";
import { gridOfAges } from "./gridOfAges.ts";
import type { PooledShape } from "./pooledShape.ts";
import type { Estimate, ItemLifeResult, Notice, ShapeChoice, ShapeTaken } from "./types.ts";

export interface AnswerWithShape extends Pick<ItemLifeResult, "fit" | "readings" | "survival"> {
  readonly law: { readonly shape: number; readonly scale: number };
  readonly taken: ShapeTaken;
  readonly notices: readonly Notice[];
}

/** A fixed shape is a prior this narrow: the bounds are those of the shape itself to five digits. */
const NARROW = 1e-5;

const methods = { fixed: "fixed shape", prior: "prior on shape", pooled: "pooled shape" } as const;

/**
 * Readings, curve and bounds where the shape, or what is believed of it, comes from elsewhere; `shapePosterior` says what is assumed.
 * Estimates are the middle of what is believed after these lives.
 *
 * @param prior       As `priorOf` has it of the choice.
 * @param pooled      Where the prior was pooled: what from.
 * @param confidence  Probability between two-sided bounds.
 * Conventions        Where nothing failed the lives bound a life from below only: there is no estimate and no upper bound.
 */
export function answerWithShape(
  sample: LifeSample,
  choice: ShapeChoice,
  prior: ShapePrior,
  pooled: PooledShape | null,
  statedAge: number,
  longestAge: number,
  confidence: number,
): AnswerWithShape {
  const ages = gridOfAges(0, longestAge);
  const answer = answerWithPrior(sample, { prior, probability: confidence, ages: [...ages, statedAge] });
  const { failures } = answer;
  const method = methods[choice.kind];
  const estimate = ({ median, lower, upper }: PosteriorReading, unit: Estimate["unit"]): Estimate =>
    failures === 0
      ? { value: null, lower, upper: null, confidence, method, unit, why: "no failures" }
      : { value: median, lower, upper, confidence, method, unit };
  const { shape, scale, b10, median, mean } = answer.readings;
  const { survival } = answer;
  const last = ages.length;
  const still: PosteriorReading = {
    median: survival.median[last] ?? 1,
    lower: survival.lower[last] ?? 0,
    upper: survival.upper[last] ?? 1,
    probability: confidence,
    method: "prior on shape",
  };
  return {
    law: { shape: shape.median, scale: scale.median },
    fit:
      failures === 0
        ? null
        : {
            distribution: "weibull",
            shape:
              choice.kind === "fixed"
                ? { value: choice.shape, lower: null, upper: null, confidence, method: "none", unit: "none" }
                : estimate(shape, "none"),
            scale: estimate(scale, "h"),
            logLikelihood: logLikelihoodAt(sample, shape.median, scale.median),
            iterations: 0,
            largestScore: 0,
          },
    readings: {
      b10: estimate(b10, "h"),
      median: estimate(median, "h"),
      mean: estimate(mean, "h"),
      statedAge,
      reliability: estimate(still, "fraction"),
    },
    survival: {
      age: [...ages],
      value: survival.median.slice(0, last),
      lower: survival.lower.slice(0, last),
      upper: failures === 0 ? ages.map(() => 1) : survival.upper.slice(0, last),
    },
    taken: {
      kind: choice.kind,
      low: choice.kind === "fixed" ? choice.shape : prior.low,
      high: choice.kind === "fixed" ? choice.shape : prior.high,
      sure: choice.kind === "fixed" ? 1 : prior.sure,
      curves: choice.kind === "fixed" ? null : answer.curves,
      pooledFrom: pooled === null ? null : { groups: pooled.groups, failures: pooled.failures },
    },
    notices: choice.kind === "fixed" ? [] : answer.notices,
  };
}

/** Null for a shape that should be pooled where there is nothing to pool. Errors  "bad-setting" for a range or shape out of order. */
export function priorOf(choice: ShapeChoice, pooled: PooledShape | null): ShapePrior | null {
  switch (choice.kind) {
    case "fixed":
      return shapePrior(choice.shape * (1 - NARROW), choice.shape * (1 + NARROW));
    case "prior":
      return shapePrior(choice.low, choice.high, choice.sure);
    case "pooled":
      return pooled?.prior ?? null;
  }
}

function logLikelihoodAt(sample: LifeSample, shape: number, scale: number): number {
  const likelihood = weibullLikelihood(sample);
  const out = new Float64Array(6);
  likelihood.evaluate(shape, shape * (likelihood.center - Math.log(scale)), out);
  return out[0] ?? Number.NaN;
}
