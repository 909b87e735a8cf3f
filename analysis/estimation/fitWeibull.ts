import { AnalysisError } from "../errors.ts";
import { stepLimit } from "./stepLimit.ts";
import type { LifeSample, Maximum } from "./types.ts";
import { typicalFailureAge, type WeibullLikelihood, weibullLikelihood } from "./weibullLikelihood.ts";

export interface FitOptions {
  /** Newton steps before "not converged" is said. */
  readonly maxIterations?: number;
}

/** What a fit rests on. Counts are sums of `count`, not rows. */
export interface FitCounts {
  readonly lives: number;
  readonly failures: number;
  readonly exact: number;
  readonly interval: number;
  /** Interval-censored from age 0, or from the age of entry. */
  readonly left: number;
  readonly right: number;
  readonly leftTruncated: number;
  /** Lives with an age known only as a range. */
  readonly ranged: number;
}

interface FitBase {
  readonly distribution: "weibull";
  readonly unit: string;
  readonly counts: FitCounts;
  readonly iterations: number;
}

/** The maximum was found. */
export interface WeibullFound extends FitBase {
  readonly maximum: "found";
  readonly shape: number;
  /** In `unit`. */
  readonly scale: number;
  /** All density terms kept. */
  readonly logLikelihood: number;
  /** Inverse of the observed information in (log shape, log scale). */
  readonly covariance: { readonly logShape: number; readonly logShapeLogScale: number; readonly logScale: number };
  /** Largest absolute derivative of the log likelihood by (log shape, log scale) at the estimate. */
  readonly largestScore: number;
}

/** There is no maximum, or it was not reached; `maximum` says why. */
export interface WeibullNotFound extends FitBase {
  readonly maximum: Exclude<Maximum, "found">;
}

export type WeibullFit = WeibullFound | WeibullNotFound;

/**
 * Maximum likelihood fit of S(t) = exp(-(t / scale)^shape) to any mix of exact, right-, left- and interval-censored,
 * left-truncated, counted and ranged lives (a range is averaged over, uniformly).
 *
 * @param sample  From `lifeSample`.
 * @returns       Plain data. `maximum` is "found", or: "no failures"; "shape not bounded above" (one age agrees with
 *                every life, such as tied failures or one exact failure with nothing after it); "scale not bounded"
 *                (the likelihood grows as the shape goes to 0); "not converged".
 * Errors         "bad-life" for an exact failure at age 0, which no Weibull law allows.
 * Accuracy       Newton's method with analytic derivatives, stopped at a decrement of 1e-20; 5 to 12 steps are usual.
 * Source         Lawless (2003), Statistical Models and Methods for Lifetime Data, sections 2.4 and 5.2;
 *                Burridge (1981), Biometrika 68, for concavity.
 */
export function fitWeibull(sample: LifeSample, options: FitOptions = {}): WeibullFit {
  const { maxIterations = 200 } = options;
  refuseFailuresAtZero(sample);
  const counts = countLives(sample);
  const base = { distribution: "weibull", unit: sample.unit, counts } as const;
  if (counts.failures === 0) return { ...base, maximum: "no failures", iterations: 0 };
  if (oneAgeAgreesWithAll(sample)) return { ...base, maximum: "shape not bounded above", iterations: 0 };

  const likelihood = weibullLikelihood(sample);
  const start = startingValues(sample, likelihood.center);
  const { shape, level, iterations, converged, at } = climb(
    likelihood,
    start,
    counts.leftTruncated > 0,
    counts.failures,
    maxIterations,
  );
  const spread = logSpread(sample);
  if (!converged) {
    return { ...base, maximum: whyNoMaximum(shape * spread) ?? "not converged", iterations };
  }

  // d(shape, level) / d(log shape, log scale) = [[shape, 0], [level, -shape]]; second-order terms vanish with the score.
  const a = -at[3]!;
  const b = -at[4]!;
  const c = -at[5]!;
  const shapeShape = shape * shape * a + 2 * shape * level * b + level * level * c;
  const shapeScale = -shape * (shape * b + level * c);
  const scaleScale = shape * shape * c;
  const determinant = shape ** 4 * (a * c - b * b);
  const covariance = {
    logShape: scaleScale / determinant,
    logShapeLogScale: -shapeScale / determinant,
    logScale: shapeShape / determinant,
  };
  // With ages in ranges the surface need not be concave: the limit of an ever steeper law may stand above this maximum.
  if (counts.ranged > 0 && stepLimit(sample) >= at[0]!) {
    return { ...base, maximum: "shape not bounded above", iterations };
  }
  // At a maximum "at infinity" the likelihood is flat in doubles: the information says so.
  if (!(covariance.logShape > 0 && covariance.logShape * counts.failures < FLAT)) {
    return { ...base, maximum: whyNoMaximum(shape * spread, 1, 1) ?? "not converged", iterations };
  }
  return {
    ...base,
    maximum: "found",
    iterations,
    shape,
    scale: Math.exp(likelihood.center - level / shape),
    logLikelihood: at[0]!,
    covariance,
    largestScore: Math.max(Math.abs(shape * at[1]! + level * at[2]!), Math.abs(shape * at[2]!)),
  };
}

/** A variance of log shape above this, per failure, means that the data say nothing about the shape. */
const FLAT = 1e4;

/**
 * Why the search ran away, from the shape times the spread of log ages (free of the unit). Beyond the limits
 * the law is, in doubles, a step at one age (large) or the same at every age (small).
 */
function whyNoMaximum(
  steepness: number,
  tooSteep = 1e6,
  tooFlat = 1e-4,
): "shape not bounded above" | "scale not bounded" | null {
  if (steepness > tooSteep) return "shape not bounded above";
  return steepness < tooFlat ? "scale not bounded" : null;
}

interface Climb {
  readonly shape: number;
  readonly level: number;
  readonly iterations: number;
  readonly converged: boolean;
  readonly at: Float64Array;
}

/**
 * Newton's method with a ridge where the surface is not concave and halving where a step does not climb. Without truncation it
 * steps in (shape, level), where the surface is concave. With truncation it steps in (log shape, level + log shape): as the
 * shape goes to 0 the law conditional on survival to `entry` stays finite there (a Pareto law), so that limit is reached, and seen.
 */
function climb(
  likelihood: WeibullLikelihood,
  start: { shape: number; level: number },
  isTruncated: boolean,
  failures: number,
  maxIterations: number,
): Climb {
  let { shape, level } = start;
  let at = new Float64Array(6);
  let next = new Float64Array(6);
  likelihood.evaluate(shape, level, at);
  for (let back = 0; back < 60 && !Number.isFinite(at[0]!); back++) {
    // Too steep a start to be computed: towards a flatter law every life becomes possible.
    shape *= 0.5;
    level *= 0.5;
    likelihood.evaluate(shape, level, at);
  }
  for (let iteration = 1; iteration <= maxIterations; iteration++) {
    const value = at[0]!;
    const surface = isTruncated ? inLogShape(at, shape) : at;
    const step = ascentStep(surface);
    const decrement = (surface[1]! * step.first + surface[2]! * step.second) / failures;
    let size = isTruncated
      ? Math.min(1, 1.5 / Math.abs(step.first))
      : Math.min(1, (step.first < 0 ? 0.8 : 4) * Math.abs(shape / step.first));
    let climbed = false;
    let nextShape = shape;
    let nextLevel = level;
    for (let halving = 0; halving < 60; halving++) {
      nextShape = isTruncated ? shape * Math.exp(size * step.first) : shape + size * step.first;
      nextLevel = level + size * step.second - (isTruncated ? size * step.first : 0);
      likelihood.evaluate(nextShape, nextLevel, next);
      // Near the top the value is flat in doubles; there the last Newton step is taken for its smaller score.
      const slack = decrement < 1e-8 ? 1e-12 * Math.abs(value) : 0;
      climbed = Number.isFinite(next[0]!) && next[0]! >= value - slack;
      if (climbed) break;
      size *= 0.5;
    }
    if (!climbed) return { shape, level, iterations: iteration, converged: decrement < 1e-8 && step.isNewton, at };
    shape = nextShape;
    level = nextLevel;
    [at, next] = [next, at];
    if (decrement <= 1e-20 && step.isNewton) return { shape, level, iterations: iteration, converged: true, at };
  }
  return { shape, level, iterations: maxIterations, converged: false, at };
}

/** The derivatives in (log shape, level + log shape). */
function inLogShape(at: Float64Array, shape: number): Float64Array {
  const [value = 0, dShape = 0, dLevel = 0, shapeShape = 0, shapeLevel = 0, levelLevel = 0] = at;
  return Float64Array.of(
    value,
    shape * dShape - dLevel,
    dLevel,
    shape * dShape + shape * shape * shapeShape - 2 * shape * shapeLevel + levelLevel,
    shape * shapeLevel - levelLevel,
    levelLevel,
  );
}

function ascentStep(surface: Float64Array): { first: number; second: number; isNewton: boolean } {
  const [, dFirst = 0, dSecond = 0, firstFirst = 0, firstSecond = 0, secondSecond = 0] = surface;
  let ridge = 0;
  for (let attempt = 0; attempt < 60; attempt++) {
    const a = -firstFirst + ridge;
    const c = -secondSecond + ridge;
    const determinant = a * c - firstSecond * firstSecond;
    if (a > 0 && c > 0 && determinant > 1e-14 * a * c) {
      return {
        first: (c * dFirst + firstSecond * dSecond) / determinant,
        second: (firstSecond * dFirst + a * dSecond) / determinant,
        isNewton: ridge === 0,
      };
    }
    ridge = ridge === 0 ? 1e-6 * (Math.abs(firstFirst) + Math.abs(secondSecond)) + Number.MIN_VALUE : 4 * ridge;
  }
  return { first: 0, second: 0, isNewton: false };
}

/** Moments of the log ages of failures (sd of log T is 1.2825 / shape), then the level that fits their number. */
function startingValues(sample: LifeSample, center: number): { shape: number; level: number } {
  let failures = 0;
  let squares = 0;
  for (let row = 0; row < sample.n; row++) {
    const age = typicalFailureAge(sample, row);
    if (age === null) continue;
    failures += sample.count[row]!;
    squares += sample.count[row]! * (Math.log(age) - center) ** 2;
  }
  const deviation = Math.sqrt(squares / failures);
  const shape = deviation > 1e-12 ? 1.2825 / deviation : 1;
  let exposure = 0;
  // Outside the loop: a function made a million times costs more than what it computes.
  const power = (age: number): number => (age > 0 ? Math.exp(shape * (Math.log(age) - center)) : 0);
  for (let row = 0; row < sample.n; row++) {
    const exit = typicalFailureAge(sample, row) ?? 0.5 * (sample.lower[row]! + sample.lowerHigh[row]!);
    exposure += sample.count[row]! * (power(exit) - power(sample.entry[row]!));
  }
  return { shape, level: exposure > 0 && Number.isFinite(exposure) ? Math.log(failures / exposure) : 0 };
}

/** Some age lies at or above every lower end and at or below every upper end: all the mass may gather there. */
export function oneAgeAgreesWithAll(sample: LifeSample): boolean {
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  for (let row = 0; row < sample.n; row++) {
    const isExact = sample.lower[row] === sample.upper[row] && sample.lowerHigh[row] === sample.upperHigh[row];
    low = Math.max(low, isExact ? sample.lower[row]! : sample.lowerHigh[row]!);
    high = Math.min(high, isExact ? sample.upperHigh[row]! : sample.upper[row]!);
  }
  return low <= high;
}

function logSpread(sample: LifeSample): number {
  let low = Number.POSITIVE_INFINITY;
  let high = 0;
  for (const column of [sample.lower, sample.lowerHigh, sample.upper, sample.upperHigh]) {
    for (const age of column) {
      if (age > 0 && age < Number.POSITIVE_INFINITY) {
        low = Math.min(low, age);
        high = Math.max(high, age);
      }
    }
  }
  return high > low ? Math.log(high / low) : 1;
}

/** Errors  "bad-life" for a failure at age 0, which no law of life allows. */
export function refuseFailuresAtZero(sample: LifeSample): void {
  for (let row = 0; row < sample.n; row++) {
    if (sample.upperHigh[row] === 0) {
      throw new AnalysisError("bad-life", {
        row: row + 1,
        id: sample.ids?.[row] ?? null,
        column: "upper",
        value: "0",
        why: "failed at age 0",
      });
    }
  }
}

/** Counts lives by kind. A life entered at `entry` and failed since then is left-censored as is one from 0. */
export function countLives(sample: LifeSample): FitCounts {
  const counts = { lives: 0, failures: 0, exact: 0, interval: 0, left: 0, right: 0, leftTruncated: 0, ranged: 0 };
  for (let row = 0; row < sample.n; row++) {
    const count = sample.count[row]!;
    const lower = sample.lower[row]!;
    const upper = sample.upper[row]!;
    const isRanged = lower !== sample.lowerHigh[row] || upper !== sample.upperHigh[row];
    const isExact = lower === upper && sample.lowerHigh[row] === sample.upperHigh[row];
    counts.lives += count;
    if (isRanged) counts.ranged += count;
    if (sample.entry[row]! > 0) counts.leftTruncated += count;
    if (upper === Number.POSITIVE_INFINITY) counts.right += count;
    else if (isExact) counts.exact += count;
    else if (sample.lowerHigh[row]! <= sample.entry[row]!) counts.left += count;
    else counts.interval += count;
  }
  counts.failures = counts.exact + counts.interval + counts.left;
  return counts;
}
