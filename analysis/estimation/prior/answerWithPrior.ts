import type { EstimationNotice } from "../estimationNotice.ts";
import type { LifeSample } from "../types.ts";
import { type PosteriorReading, posteriorReading } from "./posteriorReading.ts";
import { type ShapePosterior, shapePosterior } from "./shapePosterior.ts";
import type { ShapePrior } from "./shapePrior.ts";

export interface PriorQuestion {
  readonly prior: ShapePrior;
  /** Of the bounds, two-sided. */
  readonly probability: number;
  /** Ages at which survival is wanted, >= 0, ascending. */
  readonly ages: readonly number[];
}

export interface PriorAnswer {
  readonly unit: string;
  readonly failures: number;
  readonly prior: ShapePrior;
  readonly curves: ShapePosterior["curves"];
  readonly readings: {
    readonly shape: PosteriorReading;
    readonly scale: PosteriorReading;
    readonly b10: PosteriorReading;
    readonly median: PosteriorReading;
    readonly mean: PosteriorReading;
  };
  readonly survival: {
    readonly age: readonly number[];
    readonly median: readonly number[];
    readonly lower: readonly number[];
    readonly upper: readonly number[];
  };
  readonly method: "prior on shape";
  readonly notices: readonly EstimationNotice[];
}

/**
 * Everything a page shows of a Weibull law with a prior on its shape, as plain data; `shapePosterior` says what is assumed.
 *
 * Errors  As `shapePosterior` and `posteriorReading`.
 */
export function answerWithPrior(sample: LifeSample, { prior, probability, ages }: PriorQuestion): PriorAnswer {
  const posterior = shapePosterior(sample, prior);
  const read = (quantity: Parameters<typeof posteriorReading>[1]): PosteriorReading =>
    posteriorReading(posterior, quantity, probability);
  const survival = ages.map((age) => (age === 0 ? { median: 1, lower: 1, upper: 1 } : read({ kind: "survival", age })));
  return {
    unit: posterior.unit,
    failures: posterior.failures,
    prior,
    curves: posterior.curves,
    readings: {
      shape: read({ kind: "shape" }),
      scale: read({ kind: "scale" }),
      b10: read({ kind: "quantile", failedFraction: 0.1 }),
      median: read({ kind: "quantile", failedFraction: 0.5 }),
      mean: read({ kind: "mean" }),
    },
    survival: {
      age: [...ages],
      median: survival.map(({ median }) => median),
      lower: survival.map(({ lower }) => lower),
      upper: survival.map(({ upper }) => upper),
    },
    method: "prior on shape",
    notices: posterior.notices,
  };
}
