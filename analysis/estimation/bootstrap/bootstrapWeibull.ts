import { AnalysisError } from "../../errors.ts";
import type { EstimationNotice } from "../estimationNotice.ts";
import type { WeibullFound } from "../fitWeibull.ts";
import type { LifeSample, Maximum } from "../types.ts";
import { randomStream } from "./randomStream.ts";
import { weibullRefitter } from "./weibullRefitter.ts";

export interface BootstrapOptions {
  /** 2,000 by default; 1 or more. */
  readonly resamples?: number;
  readonly seed: number;
  /** Told how far it is, from 0 to 1, every hundred resamples. */
  readonly onShare?: (share: number) => void;
}

/** Estimates from resamples; every bound of every quantity is read from these. */
export interface BootstrapReplicates {
  readonly unit: string;
  readonly estimate: { readonly shape: number; readonly scale: number };
  /** Serials drawn from, each with all its lives. */
  readonly groups: number;
  readonly resamples: number;
  readonly seed: number;
  /** One a resample that has a maximum, in the order drawn; the two belong together. */
  readonly shape: Float64Array;
  readonly scale: Float64Array;
  /** Resamples without a maximum, by reason; they enter no bound. */
  readonly withoutMaximum: Readonly<Partial<Record<Exclude<Maximum, "found">, number>>>;
  readonly notices: readonly EstimationNotice[];
}

/** Below this many serials a resample repeats the few it has: bounds come out short. Common practice, no source. */
const FEW_GROUPS = 10;

/**
 * Nonparametric bootstrap of the Weibull fit by serial: as many serials as there are, drawn with replacement, and with each all its
 * lives, whole look schedules included. Lives of one tool may hang together in any way.
 *
 * @param fit      Of the same sample.
 * @param groupOf  Serial of each life, in the order of the sample; distinct names a life resample single lives.
 * @returns        Plain data; the same seed gives the same replicates.
 * Errors          "bad-setting" for resamples below 1 or a list of serials of another length.
 * Accuracy        Each replicate to about 1e-6 of its standard error (see `fitWeighted`).
 * Source          Davison & Hinkley (1997), Bootstrap Methods and their Application, sections 2.4 and 3.8.
 */
export function bootstrapWeibull(
  sample: LifeSample,
  fit: WeibullFound,
  groupOf: readonly string[],
  { resamples = 2_000, seed, onShare }: BootstrapOptions,
): BootstrapReplicates {
  if (!(Number.isInteger(resamples) && resamples >= 1)) {
    throw new AnalysisError("bad-setting", { setting: "resamples", value: String(resamples) });
  }
  if (groupOf.length !== sample.n) {
    throw new AnalysisError("bad-setting", { setting: "serials", value: groupOf.length, lives: sample.n });
  }
  const places = new Map<string, number>();
  const group = Int32Array.from(groupOf, (name) => {
    const known = places.get(name);
    if (known !== undefined) return known;
    places.set(name, places.size);
    return places.size - 1;
  });
  const groups = places.size;
  const random = randomStream(seed);
  const { refit } = weibullRefitter(sample, fit);
  const drawn = new Float64Array(groups);
  const weights = new Float64Array(sample.n);
  const shape = new Float64Array(resamples);
  const scale = new Float64Array(resamples);
  const withoutMaximum: Partial<Record<Exclude<Maximum, "found">, number>> = {};
  let found = 0;

  for (let resample = 0; resample < resamples; resample++) {
    if (resample % 100 === 0) onShare?.(resample / resamples);
    drawn.fill(0);
    for (let draw = 0; draw < groups; draw++) drawn[random.below(groups)]! += 1;
    for (let row = 0; row < sample.n; row++) weights[row] = sample.count[row]! * drawn[group[row]!]!;
    const answer = refit(weights);
    if (answer.maximum === "found") {
      shape[found] = answer.shape;
      scale[found] = answer.scale;
      found++;
    } else withoutMaximum[answer.maximum] = (withoutMaximum[answer.maximum] ?? 0) + 1;
  }

  const notices: EstimationNotice[] = [];
  if (found < resamples) {
    notices.push({ code: "resamples-without-maximum", facts: { resamples, without: resamples - found } });
  }
  if (groups < FEW_GROUPS) notices.push({ code: "few-groups", facts: { groups } });
  return {
    unit: sample.unit,
    estimate: { shape: fit.shape, scale: fit.scale },
    groups,
    resamples,
    seed,
    shape: shape.slice(0, found),
    scale: scale.slice(0, found),
    withoutMaximum,
    notices,
  };
}
