import { weibull } from "../../distributions/weibull.ts";
import { AnalysisError } from "../../errors.ts";
import { randomStream } from "../bootstrap/randomStream.ts";
import type { EstimationNotice } from "../estimationNotice.ts";
import { fitWeibull, type WeibullFound } from "../fitWeibull.ts";
import type { LifeSample } from "../types.ts";
import { fitTwoPatterns, type TwoPatterns } from "./fitTwoPatterns.ts";
import { lookSchedules } from "./lookSchedule.ts";
import { lifeSimulator } from "./simulateLives.ts";

export interface TwoPatternsTest {
  readonly patterns: TwoPatterns | null;
  /** Twice the gain of log likelihood over one law by a short EM; null where two patterns could not be fitted. */
  readonly statistic: number | null;
  /** (1 + simulated statistics at least as large) / (1 + simulations used). */
  readonly pValue: number | null;
  readonly simulations: number;
  /** Simulations in which one or two patterns could not be fitted. */
  readonly withoutMaximum: number;
  readonly seed: number;
  readonly method: "likelihood ratio, simulated";
  readonly notices: readonly EstimationNotice[];
}

export interface TwoPatternsOptions {
  readonly looks?: readonly (readonly number[] | null)[];
  /** 99 by default. */
  readonly simulations?: number;
  readonly seed: number;
  /** Told how far it is, from 0 to 1, before each simulation. */
  readonly onShare?: (share: number) => void;
}

/**
 * Is there an early-failure fraction, or one pattern? The gain of log likelihood by a second pattern, against its gain on samples
 * simulated from the one law and followed in the same way (`lifeSimulator`): chi-square does not hold, as under one pattern the fraction
 * is at its edge and the second law is not there to be estimated.
 *
 * The statistic is what a short EM gains, the same one in data and simulations, so that p is honest and quick; the patterns reported
 * are climbed to the top.
 *
 * Errors  "bad-setting" for fewer than 19 simulations; "unsupported-censoring" for late entry.
 * Source  McLachlan (1987), Applied Statistics 36, 318-324.
 */
export function twoPatternsTest(sample: LifeSample, fit: WeibullFound, options: TwoPatternsOptions): TwoPatternsTest {
  const { looks, simulations = 99, seed, onShare } = options;
  if (!(Number.isInteger(simulations) && simulations >= 19)) {
    throw new AnalysisError("bad-setting", { setting: "simulations", value: String(simulations) });
  }
  const patterns = fitTwoPatterns(sample, fit);
  const notices: EstimationNotice[] = [];
  if (patterns?.isOnTheEdge) {
    notices.push({
      code: "mixture-on-the-edge",
      facts: { earlyShape: patterns.early.shape, mainShape: patterns.main.shape },
    });
  }
  const base = { patterns, simulations, seed, method: "likelihood ratio, simulated" } as const;
  if (!patterns) {
    notices.push({ code: "pattern-without-maximum", facts: {} });
    return { ...base, statistic: null, pValue: null, withoutMaximum: 0, notices };
  }
  const statistic = gainOf(sample, fit) ?? 0;
  const simulate = lifeSimulator(lookSchedules(sample, looks));
  const law = weibull({ shape: fit.shape, scale: fit.scale });
  const random = randomStream(seed);
  let withoutMaximum = 0;
  let asLarge = 0;
  for (let simulation = 0; simulation < simulations; simulation++) {
    onShare?.(simulation / simulations);
    const lives = simulate(law, random);
    const one = fitWeibull(lives);
    const gain = one.maximum === "found" ? gainOf(lives, one) : null;
    if (gain === null) withoutMaximum++;
    else if (gain >= statistic) asLarge++;
  }
  if (withoutMaximum > 0) {
    notices.push({ code: "resamples-without-maximum", facts: { resamples: simulations, without: withoutMaximum } });
  }
  const pValue = (1 + asLarge) / (1 + simulations - withoutMaximum);
  return { ...base, statistic, pValue, withoutMaximum, notices };
}

const SHORT = { gain: 1e-3, most: 60 };

function gainOf(sample: LifeSample, one: WeibullFound): number | null {
  const two = fitTwoPatterns(sample, one, SHORT);
  return two === null ? null : Math.max(0, 2 * (two.logLikelihood - one.logLikelihood));
}
