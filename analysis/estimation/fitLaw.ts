import { type LawName, lawFamilies, parameterValue, type Theta } from "../distributions/lawFamilies.ts";
import { TEN } from "../distributions/lawPoint.ts";
import { type Climbed, climbNewton, solvePositive } from "./climbNewton.ts";
import { condensedSample, MANY_LIVES } from "./condensedSample.ts";
import {
  countLives,
  type FitCounts,
  type FitOptions,
  oneAgeAgreesWithAll,
  refuseFailuresAtZero,
} from "./fitWeibull.ts";
import { type InformationCriteria, informationCriteria } from "./informationCriteria.ts";
import { type LawLikelihood, lawLikelihood } from "./lawLikelihood.ts";
import { lawStart } from "./lawStart.ts";
import { lawSurface } from "./lawSurface.ts";
import { searchQ } from "./searchQ.ts";
import { searchThreshold } from "./searchThreshold.ts";
import { stepLimit } from "./stepLimit.ts";
import type { LifeSample, Maximum } from "./types.ts";

/** Why a law has no maximum; the first five as for the Weibull law, "shape not bounded above" being a spread that shrinks to 0. */
export type LawMaximum = Maximum | "Q not bounded" | "no interior maximum";

export interface CovarianceMatrix {
  readonly names: readonly string[];
  readonly matrix: readonly (readonly number[])[];
}

interface LawFitBase {
  readonly law: LawName;
  readonly unit: string;
  readonly counts: FitCounts;
  readonly iterations: number;
}

export interface LawFound extends LawFitBase {
  readonly maximum: "found";
  /** By the names of `lawFamilies.ts`. */
  readonly parameters: Readonly<Record<string, number>>;
  /** (mu, log sigma, third): the engine's own coordinates, see `LawFamily`. */
  readonly theta: Theta;
  /** All density terms kept, on the scale of ages. */
  readonly logLikelihood: number;
  /** n is the number of lives, censored ones included. */
  readonly criteria: InformationCriteria;
  /** Inverse of the observed information in the transformed parameters, log where a parameter is positive. */
  readonly covariance: CovarianceMatrix;
  /** The same in the parameters themselves. */
  readonly naturalCovariance: CovarianceMatrix;
  readonly standardErrors: Readonly<Record<string, number>>;
  /** Largest absolute derivative of the log likelihood by a free coordinate, each times its standard error. */
  readonly largestScore: number;
  /** True for the three-parameter Weibull law with a failure at a known age: the maximum is an interior one only. */
  readonly unboundedElsewhere: boolean;
}

export interface LawNotFound extends LawFitBase {
  readonly maximum: Exclude<LawMaximum, "found">;
}

export type LawFit = LawFound | LawNotFound;

/**
 * Maximum likelihood fit of any law to any mix of exact, right-, left- and interval-censored, left-truncated, counted and
 * ranged lives.
 *
 * @returns       Plain data. `maximum` is "found", or: "no failures"; "shape not bounded above" (the law gathers at one age);
 *                "scale not bounded" (it flattens, or runs off to 0 or beyond all ages); "Q not bounded" (generalised gamma:
 *                the likelihood still rises, or is higher, at |Q| = 10); "no interior maximum" (three-parameter Weibull: the
 *                likelihood is unbounded as the threshold nears the first known failure, and has no maximum before);
 *                "not converged".
 * Errors         "bad-life" for a failure at age 0.
 * Accuracy       Newton's method on analytic derivatives, stopped when twice the gain of the next step is below 1e-17.
 * Source         Lawless (2003), chapter 5; for the threshold Meeker & Escobar (1998), section 11.7, Smith (1985),
 *                Biometrika 72, 67-90; for Q Prentice (1974), Biometrika 61.
 */
export function fitLaw(sample: LifeSample, law: LawName, options: FitOptions = {}): LawFit {
  refuseFailuresAtZero(sample);
  const family = lawFamilies[law];
  const counts = countLives(sample);
  const base = { law, unit: sample.unit, counts };
  if (counts.failures === 0) return { ...base, maximum: "no failures", iterations: 0 };
  const hasSpread = law !== "exponential";
  if (hasSpread && oneAgeAgreesWithAll(sample)) return { ...base, maximum: "shape not bounded above", iterations: 0 };

  const likelihood = lawLikelihood(sample, family);
  const few = sample.n > MANY_LIVES ? condensedSample(sample) : sample;
  const start = lawStart(few, family);
  const top = search(likelihood, sample, few, start, options);
  if (typeof top === "string") return { ...base, maximum: top, iterations: 0 };
  const { climbed, theta } = top;
  const { iterations } = climbed;
  if (!climbed.converged)
    return { ...base, maximum: whereItRan(theta, start, likelihood) ?? "not converged", iterations };
  if (hasSpread && counts.ranged > 0 && stepLimit(sample) >= climbed.value) {
    return { ...base, maximum: "shape not bounded above", iterations };
  }
  const free = family.free;
  const information = inverseOf(climbed.hessian, free.length);
  // At a maximum "at infinity" the likelihood is flat in doubles: the information says so.
  if (!information || isFlat(information, free, theta, counts.failures)) {
    return { ...base, maximum: whereItRan(theta, start, likelihood) ?? "not converged", iterations };
  }
  const { parameters } = family;
  const at = parameters.map(({ index }) => free.indexOf(index));
  const covariance = parameters.map(({ sign }, i) =>
    parameters.map((other, j) => sign * other.sign * information[at[i]!]![at[j]!]!),
  );
  const slopes = parameters.map((one) => (one.isLog ? parameterValue(one, theta) : 1));
  const natural = covariance.map((row, i) => row.map((value, j) => value * slopes[i]! * slopes[j]!));
  const names = parameters.map(({ name }) => name);
  return {
    ...base,
    maximum: "found",
    iterations,
    parameters: Object.fromEntries(parameters.map((one) => [one.name, parameterValue(one, theta)])),
    theta,
    logLikelihood: climbed.value,
    criteria: informationCriteria(climbed.value, free.length, counts.lives),
    covariance: { names: parameters.map(({ transformedName }) => transformedName), matrix: covariance },
    naturalCovariance: { names, matrix: natural },
    standardErrors: Object.fromEntries(names.map((name, i) => [name, Math.sqrt(natural[i]![i]!)])),
    largestScore: Math.max(...free.map((_, i) => Math.abs(climbed.gradient[i]!) * Math.sqrt(information[i]![i]!))),
    unboundedElsewhere: law === "three-parameter weibull" && counts.exact > 0,
  };
}

/** The top of the likelihood, or why there is none. */
export interface Top {
  readonly climbed: Climbed;
  readonly theta: Theta;
}

function search(
  likelihood: LawLikelihood,
  sample: LifeSample,
  few: LifeSample,
  start: Theta,
  options: FitOptions,
): Top | "Q not bounded" | "no interior maximum" {
  const { family } = likelihood;
  if (family.name === "generalised gamma") return searchQ(likelihood, sample, few, start) ?? "Q not bounded";
  if (family.name === "three-parameter weibull") {
    return searchThreshold(likelihood, sample, few, start) ?? "no interior maximum";
  }
  const surface = lawSurface(likelihood, sample, start, family.free);
  const climbed = climbNewton(surface, possible(likelihood, start, family.free), options);
  return { climbed, theta: surface.theta(climbed.at) };
}

/** The start, flattened until every life is possible in doubles. */
function possible(likelihood: LawLikelihood, start: Theta, free: readonly (0 | 1 | 2)[]): readonly number[] {
  const out = new Float64Array(TEN);
  let theta = start;
  for (let back = 0; back < 60; back++) {
    likelihood.evaluate(theta, out);
    if (Number.isFinite(out[0]!)) break;
    const [mu, logSigma, third] = theta;
    if (likelihood.family.name === "gamma") theta = [mu + Math.min(1, third), logSigma, third - Math.min(1, third + 5)];
    else if (likelihood.family.name === "exponential") theta = [mu + 1, logSigma, third];
    else theta = [mu, logSigma + 0.5, third];
  }
  return free.map((index) => theta[index]);
}

/** Why the search ran away, from how the spread has changed since the start. */
function whereItRan(
  theta: Theta,
  start: Theta,
  { family }: LawLikelihood,
): "shape not bounded above" | "scale not bounded" | null {
  // One parameter can run off in one way only.
  if (family.name === "exponential") return "scale not bounded";
  // The spread of the gamma law is about 1 / sqrt(shape).
  const spread = (at: Theta): number => (family.name === "gamma" ? -0.5 * at[2] : at[1]);
  const change = spread(theta) - spread(start);
  if (change < -4) return "shape not bounded above";
  return change > 2 || Math.abs(theta[0] - start[0]) > 5 ? "scale not bounded" : null;
}

/** A variance of log sigma (log shape) above this, per failure, means that the data say nothing about it. */
const FLAT = 1e4;

function isFlat(
  information: readonly (readonly number[])[],
  free: readonly (0 | 1 | 2)[],
  theta: Theta,
  failures: number,
): boolean {
  const sigma = Math.exp(theta[1]);
  return free.some((index, i) => {
    const variance = information[i]![i]!;
    if (!(variance > 0 && Number.isFinite(variance))) return true;
    // The threshold and Q are looked after by their own searches.
    return index === 1
      ? variance * failures > FLAT
      : index === 0 && (variance / (sigma * sigma)) * failures > 100 * FLAT;
  });
}

/** Inverse of -hessian; null where it is not positive definite. */
function inverseOf(hessian: Float64Array, m: number): number[][] | null {
  const information = hessian.map((value) => -value);
  const rows: number[][] = [];
  for (let i = 0; i < m; i++) {
    const unit = new Float64Array(m);
    unit[i] = 1;
    const column = solvePositive(information, unit, m);
    if (!column) return null;
    rows.push([...column]);
  }
  return rows;
}
