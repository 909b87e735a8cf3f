import { lawFamilies } from "../../distributions/lawFamilies.ts";
import { standardQuantile } from "../../distributions/standard/standardQuantile.ts";
import type { RandomStream } from "../../estimation/bootstrap/randomStream.ts";
import { type LifeInput, lifeSample } from "../../estimation/lifeSample.ts";
import type { LifeSample } from "../../estimation/types.ts";
import { inverseGammaP } from "../../numerics/index.ts";
import type { DesignMatrix, RegressionLaw } from "../types.ts";

/** What is assumed of the lives that are still to be seen. */
export interface AssumedLives {
  readonly unit: string;
  readonly design: DesignMatrix;
  readonly law: RegressionLaw;
  /** log T = intercept + x'b + spread W; coefficients in the order of the design's columns. */
  readonly intercept: number;
  readonly coefficients: readonly number[];
  readonly spread: number;
  /** Age to which each life is followed, > 0. */
  readonly followedTo: Float64Array;
  /** Age at which each life came under observation, sound, below `followedTo`; 0 where left out. */
  readonly entry?: Float64Array;
  /** Failures are found at looks this far apart; null: their ages are known. */
  readonly lookEvery: number | null;
  /** Tool of each life, and how much tools differ: the variance of a gamma frailty with mean 1 on the hazard of a Weibull law. */
  readonly clusters?: readonly string[];
  readonly frailtyVariance?: number;
}

/** Draws one set of such lives. */
export function drawLives(assumed: AssumedLives, random: RandomStream): LifeSample {
  const {
    design,
    law,
    intercept,
    coefficients,
    spread,
    followedTo,
    entry,
    lookEvery,
    clusters,
    frailtyVariance = 0,
  } = assumed;
  const k = design.names.length;
  const { standard } = lawFamilies[law];
  const tails = new Float64Array(6);
  const frailties = new Map<string, number>();
  const frailtyOf = (tool: string): number => {
    let frailty = frailties.get(tool);
    if (frailty === undefined) {
      frailty = frailtyVariance > 0 ? frailtyVariance * inverseGammaP(1 / frailtyVariance, random.uniform()) : 1;
      frailties.set(tool, frailty);
    }
    return frailty;
  };
  const lives = Array.from({ length: design.rows }, (_, i): LifeInput => {
    const location = coefficients.reduce((sum, b, j) => sum + b * design.values[i * k + j]!, intercept);
    const shift = clusters ? spread * Math.log(frailtyOf(clusters[i]!)) : 0;
    const start = entry?.[i] ?? 0;
    let logSurvived = 0;
    if (start > 0) {
      standard.logSurvival((Math.log(start) - location + shift) / spread, 0, tails);
      logSurvived = tails[0]!;
    }
    // In (0, 1): a uniform number of 0 would be a life of age 0.
    const logSurvival = logSurvived + Math.log1p(-(random.uniform() || 0.5 ** 53));
    const w = standardQuantile(standard, logSurvival, Math.log(-Math.expm1(logSurvival)), 0);
    const age = Math.exp(location + spread * w - shift);
    const stop = followedTo[i]!;
    if (age > stop) return { lower: stop, upper: null, entry: start };
    if (lookEvery === null) return { lower: age, upper: age, entry: start };
    const clean = Math.max(start, Math.floor(age / lookEvery) * lookEvery);
    return { lower: clean, upper: Math.min(clean + lookEvery, stop), entry: start };
  });
  return lifeSample({ unit: assumed.unit, lives });
}
