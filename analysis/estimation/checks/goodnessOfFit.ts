import { type Weibull, weibull } from "../../distributions/weibull.ts";
import { AnalysisError } from "../../errors.ts";
import { randomStream } from "../bootstrap/randomStream.ts";
import type { EstimationNotice } from "../estimationNotice.ts";
import { fitWeibull } from "../fitWeibull.ts";
import type { LifeSample } from "../types.ts";
import { lookSchedules } from "./lookSchedule.ts";
import { selfConsistentDistance } from "./selfConsistentDistance.ts";
import { type AgeLaw, lifeSimulator } from "./simulateLives.ts";

export interface GoodnessOfFit {
  readonly statistic: number;
  /** (1 + simulated statistics at least as large) / (1 + simulations with a maximum). */
  readonly pValue: number;
  /** sqrt(p (1 - p) / simulations): how far p would move with another seed. */
  readonly monteCarloError: number;
  readonly simulations: number;
  readonly withoutMaximum: number;
  readonly seed: number;
  readonly method: "self-consistent Anderson-Darling, simulated";
  readonly notices: readonly EstimationNotice[];
}

export interface GoodnessOptions {
  /** Ages of the looks of each life; see `lookSchedules`. */
  readonly looks?: readonly (readonly number[] | null)[];
  /** 499 by default. */
  readonly simulations?: number;
  readonly seed: number;
  /** Told how far it is, from 0 to 1, before each simulation. */
  readonly onShare?: (share: number) => void;
}

/** A family to be tested: its fit to these lives, and how it is fitted to others. Null: no maximum. */
export interface TestedFamily {
  readonly law: AgeLaw;
  refit(sample: LifeSample): AgeLaw | null;
}

/**
 * Goodness of fit for lives of any kind by parametric bootstrap: samples are simulated from the fitted law, each life followed
 * as it was (`lifeSimulator` says how), the law is fitted again, and the distance (`selfConsistentDistance`) compared.
 *
 * Errors  "bad-setting" for fewer than 19 simulations.
 * Source  Stute, Gonzalez Manteiga & Presedo Quindimil (1993), Metrika 40, 243-256, for the bootstrap with estimated parameters.
 */
export function goodnessOfFit(sample: LifeSample, family: TestedFamily, options: GoodnessOptions): GoodnessOfFit {
  const { looks, simulations = 499, seed, onShare } = options;
  if (!(Number.isInteger(simulations) && simulations >= 19)) {
    throw new AnalysisError("bad-setting", { setting: "simulations", value: String(simulations) });
  }
  const schedules = lookSchedules(sample, looks);
  const simulate = lifeSimulator(schedules);
  const random = randomStream(seed);
  const statistic = selfConsistentDistance(sample, family.law);
  let withoutMaximum = 0;
  let asLarge = 0;
  for (let simulation = 0; simulation < simulations; simulation++) {
    onShare?.(simulation / simulations);
    const lives = simulate(family.law, random);
    const law = family.refit(lives);
    if (law === null) withoutMaximum++;
    else if (selfConsistentDistance(lives, law) >= statistic) asLarge++;
  }
  const used = simulations - withoutMaximum;
  const pValue = (1 + asLarge) / (1 + used);
  const notices: EstimationNotice[] = [];
  if (withoutMaximum > 0) {
    notices.push({ code: "resamples-without-maximum", facts: { resamples: simulations, without: withoutMaximum } });
  }
  const drawn = schedules.lives.filter(({ end }) => end === null).length;
  if (drawn > 0) notices.push({ code: "follow-up-drawn", facts: { lives: drawn } });
  if (schedules.assumed > 0) notices.push({ code: "looks-assumed", facts: { lives: schedules.assumed } });
  return {
    statistic,
    pValue,
    monteCarloError: Math.sqrt((pValue * (1 - pValue)) / Math.max(1, used)),
    simulations,
    withoutMaximum,
    seed,
    method: "self-consistent Anderson-Darling, simulated",
    notices,
  };
}

/** The Weibull family at a fit of `sample`. */
export function weibullFamily(parameters: { readonly shape: number; readonly scale: number }): TestedFamily {
  const refit = (sample: LifeSample): Weibull | null => {
    const fit = fitWeibull(sample);
    return fit.maximum === "found" ? weibull({ shape: fit.shape, scale: fit.scale }) : null;
  };
  return { law: weibull({ shape: parameters.shape, scale: parameters.scale }), refit };
}
