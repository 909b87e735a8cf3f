/** The bounds that the study holds against the truth, all 90 % two-sided, each tail apart. */
import { bootstrapWeibull } from "../../../analysis/estimation/bootstrap/bootstrapWeibull.ts";
import { randomStream } from "../../../analysis/estimation/bootstrap/randomStream.ts";
import { fitWeibull, type WeibullFound } from "../../../analysis/estimation/fitWeibull.ts";
import { fixedShapeBounds, fixedShapeWeibull } from "../../../analysis/estimation/fixedShapeWeibull.ts";
import { lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { posteriorBelow } from "../../../analysis/estimation/prior/posteriorReading.ts";
import { shapePosterior } from "../../../analysis/estimation/prior/shapePosterior.ts";
import { shapePrior } from "../../../analysis/estimation/prior/shapePrior.ts";
import { weibullBounds } from "../../../analysis/estimation/profileBounds.ts";
import type { LifeSample } from "../../../analysis/estimation/types.ts";
import { weibullWaldBounds } from "../../../analysis/estimation/waldBounds.ts";
import { type WeibullQuantity, weibullQuantity } from "../../../analysis/estimation/weibullQuantity.ts";
import { type Cell, looksIn, simulate, truthOf } from "./schemes.ts";

export const CONFIDENCE = 0.9;
/** Each tail that 90 % two-sided bounds leave out. */
export const TAIL = 0.5 * (1 - CONFIDENCE);

export const methods = [
  "likelihood ratio",
  "Wald",
  "fixed shape, right",
  "fixed shape, a quarter too high",
  "prior 1 to 4",
] as const;
export type Method = (typeof methods)[number];
export const quantities = ["B10", "shape"] as const;
export type QuantityName = (typeof quantities)[number];

const asked: Readonly<Record<QuantityName, WeibullQuantity>> = {
  B10: { kind: "quantile", failedFraction: 0.1 },
  shape: { kind: "shape" },
};

/** Where the truth lies: "below" the lower bound, "above" the upper one; an open end covers. */
export type Side = "below" | "inside" | "above";

export interface Replicate {
  readonly failures: number;
  /** Of the free fit. */
  readonly maximum: string;
  readonly verdicts: readonly { readonly method: Method; readonly quantity: QuantityName; readonly side: Side }[];
  /** Logarithms of estimate over truth and of one bootstrap resample over the estimate; null where there is no maximum. */
  readonly resample: Readonly<Record<QuantityName, readonly [estimate: number, resample: number]>> | null;
}

/** One fleet, all methods. `withPrior` asks for the prior too, which costs ten times all the rest. */
export function replicate(cell: Cell, end: number, seed: number, withPrior: boolean): Replicate {
  const random = randomStream(seed);
  const { lives, serials } = simulate(cell, end, random);
  const sample = lifeSample({ unit: "h", lives });
  const fit = fitWeibull(sample);
  const truth = { B10: truthOf(cell).b10, shape: truthOf(cell).shape };
  const verdicts: { method: Method; quantity: QuantityName; side: Side }[] = [];
  const note = (method: Method, quantity: QuantityName, lower: number | null, upper: number | null): void => {
    verdicts.push({ method, quantity, side: sideOf(truth[quantity], lower, upper) });
  };

  if (fit.maximum === "found") {
    for (const quantity of quantities) {
      const ratio = weibullBounds(fit, sample, asked[quantity], CONFIDENCE);
      note("likelihood ratio", quantity, ratio.lower, ratio.upper);
      const wald = weibullWaldBounds(fit, asked[quantity], CONFIDENCE);
      note("Wald", quantity, wald.lower, wald.upper);
    }
  }
  // A fixed shape takes no life between looks; by scheme, lest only fleets without a failure be counted.
  if (looksIn[cell.scheme] === 0) {
    const fixed = (shape: number) =>
      fixedShapeBounds(fixedShapeWeibull(sample, shape), { kind: "quantile", failedFraction: 0.1 }, 1 - TAIL);
    const right = fixed(cell.shape);
    note("fixed shape, right", "B10", right.lower, right.upper);
    const high = fixed(1.25 * cell.shape);
    note("fixed shape, a quarter too high", "B10", high.lower, high.upper);
  }
  if (withPrior) {
    const posterior = shapePosterior(sample, shapePrior(1, 4));
    for (const quantity of quantities) {
      const below = posteriorBelow(posterior, asked[quantity], Math.log(truth[quantity]));
      verdicts.push({
        method: "prior 1 to 4",
        quantity,
        side: below < TAIL ? "below" : below > 1 - TAIL ? "above" : "inside",
      });
    }
  }
  return {
    failures: fit.counts.failures,
    maximum: fit.maximum,
    verdicts,
    resample: fit.maximum === "found" ? oneResample(sample, fit, serials, truth, seed) : null,
  };
}

function sideOf(truth: number, lower: number | null, upper: number | null): Side {
  if (lower !== null && truth < lower) return "below";
  return upper !== null && truth > upper ? "above" : "inside";
}

function oneResample(
  sample: LifeSample,
  fit: WeibullFound,
  serials: readonly string[],
  truth: Readonly<Record<QuantityName, number>>,
  seed: number,
): Replicate["resample"] {
  const drawn = bootstrapWeibull(sample, fit, serials, { resamples: 1, seed: seed ^ 0x5bd1e995 });
  const [shape, scale] = [drawn.shape[0], drawn.scale[0]];
  if (shape === undefined || scale === undefined) return null;
  const pair = (quantity: QuantityName): readonly [number, number] => {
    const estimate = weibullQuantity(asked[quantity], fit);
    return [
      Math.log(estimate / truth[quantity]),
      Math.log(weibullQuantity(asked[quantity], { shape, scale }) / estimate),
    ];
  };
  return { B10: pair("B10"), shape: pair("shape") };
}
