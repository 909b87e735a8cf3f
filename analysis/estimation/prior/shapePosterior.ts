import { AnalysisError } from "../../errors.ts";
import type { EstimationNotice } from "../estimationNotice.ts";
import { fitWeibull } from "../fitWeibull.ts";
import type { LifeSample } from "../types.ts";
import { weibullLikelihood } from "../weibullLikelihood.ts";
import { gammaLevelDensity, type LevelDensity, logExposure, numericLevelDensity } from "./levelDensity.ts";
import { priorDensity, type ShapePrior } from "./shapePrior.ts";

/** One point of the quadrature over log shape. */
export interface PosteriorNode {
  readonly shape: number;
  /** Posterior probability of the node; they sum to 1. */
  readonly weight: number;
  readonly level: LevelDensity;
}

export interface ShapePosterior {
  readonly unit: string;
  readonly failures: number;
  readonly prior: ShapePrior;
  /** Prior and posterior density of the shape, per unit of shape, for drawing both together. */
  readonly curves: {
    readonly shape: readonly number[];
    readonly prior: readonly number[];
    readonly posterior: readonly number[];
  };
  /** Where level is measured; `posteriorReading` needs it. */
  readonly center: number;
  readonly nodes: readonly PosteriorNode[];
  readonly notices: readonly EstimationNotice[];
}

const NODES = 72;
/** The quadrature ends where the log density has fallen by this much from its top. */
const FALL = 28;
/** Prior and estimate further apart than this, in joint standard deviations, contradict each other. Common practice, no source. */
const APART = 2;

/**
 * Posterior of a Weibull law whose shape has a lognormal prior, down to no failure at all, by quadrature over log shape.
 *
 * The scale is integrated out, not profiled, so that few lives do not look surer than they are. Its prior: M, the number of failures that
 * the law expects over the lives at hand, M = sum [H(exit) - H(entry)], is uniform and independent of the shape. Why this one: it does
 * not depend on the unit of age; with exact and right-censored lives the shape's posterior is then exactly prior times profile
 * likelihood; with no failures it stays proper and the shape's posterior is its prior; and as the prior narrows to one shape the lower
 * bounds become those of `fixedShapeBounds` (chi-square, 2r + 2 degrees of freedom), conservative for claims of life. The price: upper
 * bounds of life come out somewhat low where failures are few.
 *
 * @param sample  Any lives; for lives between looks or with ranges the middle of the failure's age stands for the exit in M.
 * Errors         "bad-setting" where no life was followed for any time at all.
 * Accuracy       72 even points of log shape; weights to about 1e-8, see `levelDensity.ts` for the scale.
 * Source         Own choice of prior after Bayes and Laplace; Meeker & Escobar (1998), ch. 14, for prior ranges on the shape.
 */
export function shapePosterior(sample: LifeSample, prior: ShapePrior): ShapePosterior {
  let failures = 0;
  for (let row = 0; row < sample.n; row++) {
    if (sample.upper[row] !== Number.POSITIVE_INFINITY) failures += sample.count[row]!;
  }
  const fit = fitWeibull(sample);
  const { densityAt, center } = densities(sample, failures);

  const notices: EstimationNotice[] = [];
  if (fit.maximum === "found") {
    const error = Math.sqrt(fit.covariance.logShape);
    const apart = (Math.log(fit.shape) - prior.mean) / Math.hypot(error, prior.spread);
    if (Math.abs(apart) > APART) {
      notices.push({
        code: "prior-and-lives-disagree",
        facts: { shapeOfLives: fit.shape, low: prior.low, high: prior.high, standardDeviations: Math.abs(apart) },
      });
    }
    // The prior tells more than the lives.
    if (error > prior.spread) notices.push({ code: "prior-decides", facts: { failures } });
  } else notices.push({ code: "prior-decides", facts: { failures } });

  const logPrior = (logShape: number): number => -0.5 * ((logShape - prior.mean) / prior.spread) ** 2;
  const [low, high] = span(
    (logShape) => densityAt(Math.exp(logShape), true).logMass + logPrior(logShape),
    fit.maximum === "found" ? Math.log(fit.shape) : null,
    prior,
  );
  const logWeights = new Float64Array(NODES);
  const levels: LevelDensity[] = [];
  const step = (high - low) / (NODES - 1);
  const shapes = Array.from({ length: NODES }, (_, i) => Math.exp(low + i * step));
  shapes.forEach((shape, i) => {
    const level = densityAt(shape, false);
    levels.push(level);
    logWeights[i] = level.logMass + logPrior(Math.log(shape));
  });
  const largest = Math.max(...logWeights);
  const weights = logWeights.map((log) => Math.exp(log - largest));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const nodes = shapes.map((shape, i) => ({ shape, weight: weights[i]! / total, level: levels[i]! }));
  return {
    unit: sample.unit,
    failures,
    prior,
    curves: {
      shape: shapes,
      prior: shapes.map((shape) => priorDensity(prior, shape)),
      posterior: nodes.map(({ shape, weight }) => weight / (step * shape)),
    },
    center,
    nodes,
    notices,
  };
}

function densities(
  sample: LifeSample,
  failures: number,
): { readonly densityAt: (shape: number, isRough: boolean) => LevelDensity; readonly center: number } {
  const isPlain = sample.lower.every(
    (lower, row) =>
      lower === sample.lowerHigh[row] &&
      sample.upper[row] === sample.upperHigh[row] &&
      (sample.upper[row] === lower || sample.upper[row] === Number.POSITIVE_INFINITY),
  );
  const likelihood = weibullLikelihood(sample);
  const { center } = likelihood;
  if (!Number.isFinite(logExposure(sample, center, 1))) {
    throw new AnalysisError("bad-setting", { setting: "exposure", value: "0" });
  }
  if (failures === 0) {
    // Whatever the ages, M is all that counts: its likelihood is exp(-M), ranges entering at their middle.
    return { center, densityAt: (shape) => gammaLevelDensity(0, 0, logExposure(sample, center, shape)) };
  }
  let sumOfLogs = 0;
  for (let row = 0; row < sample.n; row++) {
    if (sample.upper[row] !== Number.POSITIVE_INFINITY) {
      sumOfLogs += sample.count[row]! * (Math.log(sample.lower[row]!) - center);
    }
  }
  const densityAt = (shape: number, isRough: boolean): LevelDensity => {
    const exposure = logExposure(sample, center, shape);
    if (!isPlain) return numericLevelDensity(likelihood, shape, exposure, isRough);
    // The part of the likelihood that M does not hold: shape^r product t^shape / exposure^r.
    return gammaLevelDensity(failures * (Math.log(shape) - exposure) + shape * sumOfLogs, failures, exposure);
  };
  return { center, densityAt };
}

/** The stretch of log shape that holds the posterior: golden section to its top, then outwards until it has fallen. */
function span(
  logDensity: (logShape: number) => number,
  ofLives: number | null,
  { mean, spread }: ShapePrior,
): readonly [number, number] {
  const golden = (Math.sqrt(5) - 1) / 2;
  // The top lies between prior and estimate; without an estimate lives cannot draw it far.
  let low = Math.min(mean, ofLives ?? mean - 8 * spread) - 1e-9;
  let high = Math.max(mean, ofLives ?? mean + 8 * spread) + 1e-9;
  for (let step = 0; step < 30 && high - low > 1e-3 * spread; step++) {
    const [c, d] = [high - golden * (high - low), low + golden * (high - low)];
    if (logDensity(c) > logDensity(d)) high = d;
    else low = c;
  }
  const top = 0.5 * (low + high);
  const peak = logDensity(top);
  const end = (side: 1 | -1): number => {
    let distance = spread;
    while (peak - logDensity(top + (side * distance) / 1.3) > FALL && distance > 1e-9) distance /= 1.3;
    while (peak - logDensity(top + side * distance) < FALL && distance < 100) distance *= 1.3;
    return top + side * distance;
  };
  return [end(-1), end(1)];
}
