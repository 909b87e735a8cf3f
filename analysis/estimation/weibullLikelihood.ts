/**
 * Log likelihood of the Weibull law and its derivatives, for any mix of lives, in the parameters
 *
 *   log H(t) = shape * (log t - center) + level          (so scale = exp(center - level / shape))
 *
 * With exact, left-, right- and interval-censored lives the log likelihood is concave in (shape, level) (log-concavity of
 * the smallest-extreme-value density and Prekopa's theorem), and every quantile, every survival and the shape are held
 * fixed along straight lines. That makes both the fit and the bounds safe one- and two-dimensional Newton searches.
 */
import { gaussLegendre } from "../numerics/index.ts";
import type { LifeSample } from "./types.ts";

export interface WeibullLikelihood {
  /** Mean log age of the failures: where `level` is measured. */
  readonly center: number;
  /** Total count of exact failures; with none the likelihood stays finite as the shape goes to 0. */
  readonly exactCount: number;
  /**
   * Writes [value, d shape, d level, d2 shape shape, d2 shape level, d2 level level] to `out`.
   * The value is -Infinity, and the derivatives meaningless, where the parameters make the data impossible in doubles.
   */
  evaluate(shape: number, level: number, out: Float64Array): void;
}

/** Lives that are alike, with an end known only to lie in a range. Ages are relative to exp(center). */
export interface Ranged {
  readonly count: number;
  readonly lower: number;
  readonly lowerHigh: number;
  readonly upper: number;
  readonly upperHigh: number;
  /** Points for laws that are smooth over the ranges. */
  readonly points: Mixture;
}

/** Columns of log sum_i w_i [S(a_i) - S(b_i)], as logarithms of relative ages; the first `length` rows count. */
export interface Mixture {
  length: number;
  readonly logWeights: Float64Array;
  readonly from: Float64Array;
  readonly to: Float64Array;
  /** to - from in logarithms, computed without cancellation. */
  readonly width: Float64Array;
}

export function emptyMixture(length: number): Mixture {
  const column = (): Float64Array => new Float64Array(length);
  return { length, logWeights: column(), from: column(), to: column(), width: column() };
}

/** Values of log H between which S is smooth enough for a panel of a few points, where a range is wide for the law. */
const PANEL_ENDS = [-37, -25, -18, -13, -9, -6, -4, -2.5, -1.2, 0, 0.8, 1.5, 2.2, 2.9, 3.7, 5];
const PANEL_POINTS = 8;
export const MOST_POINTS = (2 * PANEL_ENDS.length + 1) * PANEL_POINTS;

/**
 * Compiles a sample: like lives are merged, exact and right-censored ones reduced to sums and distinct ages.
 *
 * @param sample  Checked by `lifeSample`; exact failures at ages above 0; at least one failure.
 * Conventions    All density terms are kept: the value is the log likelihood on the scale of ages.
 */
export function weibullLikelihood(sample: LifeSample): WeibullLikelihood {
  const center = meanLogFailureAge(sample);
  const hazardWeights = new Map<number, number>();
  const intervals = new Map<string, { from: number; to: number; count: number }>();
  const mixtures = new Map<string, { row: number; count: number }>();
  let exactCount = 0;
  let exactLogAge = 0;
  let constant = 0;

  const addHazard = (age: number, weight: number): void => {
    if (age > 0) hazardWeights.set(age, (hazardWeights.get(age) ?? 0) + weight);
  };
  const addInterval = (from: number, to: number, count: number): void => {
    const key = `${from}|${to}`;
    const known = intervals.get(key);
    if (known) known.count += count;
    else intervals.set(key, { from, to, count });
  };

  for (let row = 0; row < sample.n; row++) {
    const count = sample.count[row]!;
    const lower = sample.lower[row]!;
    const lowerHigh = sample.lowerHigh[row]!;
    const upper = sample.upper[row]!;
    const upperHigh = sample.upperHigh[row]!;
    addHazard(sample.entry[row]!, -count);
    if (lower === upper && lowerHigh === upperHigh) {
      if (lower === lowerHigh) {
        exactCount += count;
        exactLogAge += count * (Math.log(lower) - center);
        constant -= count * Math.log(lower);
        addHazard(lower, count);
      } else {
        // The density averaged over [lower, lowerHigh] is [S(lower) - S(lowerHigh)] / width.
        addInterval(lower, lowerHigh, count);
        constant -= count * Math.log(lowerHigh - lower);
      }
    } else if (lower === lowerHigh && upper === upperHigh) {
      if (upper === Number.POSITIVE_INFINITY) addHazard(lower, count);
      else addInterval(lower, upper, count);
    } else {
      const key = `${lower}|${lowerHigh}|${upper}|${upperHigh}`;
      const known = mixtures.get(key);
      if (known) known.count += count;
      else mixtures.set(key, { row, count });
    }
  }

  let logAges = new Float64Array(hazardWeights.size);
  let weights = new Float64Array(hazardWeights.size);
  let ages = 0;
  for (const [age, weight] of hazardWeights) {
    if (weight === 0) continue;
    logAges[ages] = Math.log(age) - center;
    weights[ages] = weight;
    ages++;
  }
  logAges = logAges.subarray(0, ages);
  weights = weights.subarray(0, ages);
  hazardWeights.clear();
  const spans = [...intervals.values()];
  const spanFrom = Float64Array.from(spans, ({ from }) => Math.log(from) - center);
  const spanTo = Float64Array.from(spans, ({ to }) => Math.log(to) - center);
  const spanWidth = Float64Array.from(spans, ({ from, to }) => Math.log1p((to - from) / from));
  const spanCount = Float64Array.from(spans, ({ count }) => count);
  const averaged = [...mixtures.values()].map(({ row, count }) => rangedOf(sample, row, count, center));
  const panels = emptyMixture(MOST_POINTS);
  const one = new Float64Array(6);
  const several = new Float64Array(6 * MOST_POINTS);

  const evaluate = (shape: number, level: number, out: Float64Array): void => {
    let value = constant + exactCount * (Math.log(shape) + level) + shape * exactLogAge;
    let dShape = exactCount / shape + exactLogAge;
    let dLevel = exactCount;
    let shapeShape = -exactCount / (shape * shape);
    let shapeLevel = 0;
    let levelLevel = 0;
    for (let j = 0; j < logAges.length; j++) {
      const y = logAges[j]!;
      const hazard = weights[j]! * Math.exp(shape * y + level);
      const slope = hazard * y;
      value -= hazard;
      dShape -= slope;
      dLevel -= hazard;
      shapeShape -= slope * y;
      shapeLevel -= slope;
      levelLevel -= hazard;
    }
    for (let j = 0; j < spanFrom.length; j++) {
      const count = spanCount[j]!;
      logProbability(shape, level, spanFrom[j]!, spanTo[j]!, spanWidth[j]!, one, 0);
      value += count * one[0]!;
      dShape += count * one[1]!;
      dLevel += count * one[2]!;
      shapeShape += count * one[3]!;
      shapeLevel += count * one[4]!;
      levelLevel += count * one[5]!;
    }
    for (const ranged of averaged) {
      const points = isSteep(ranged, shape, level) ? panelPoints(ranged, shape, level, panels) : ranged.points;
      logAverage(shape, level, points, several, one);
      value += ranged.count * one[0]!;
      dShape += ranged.count * one[1]!;
      dLevel += ranged.count * one[2]!;
      shapeShape += ranged.count * one[3]!;
      shapeLevel += ranged.count * one[4]!;
      levelLevel += ranged.count * one[5]!;
    }
    // NaN is one infinite hazard less another; far below, the second derivatives overflow before the value does.
    out[0] = value > -1e250 ? value : Number.NEGATIVE_INFINITY;
    out[1] = dShape;
    out[2] = dLevel;
    out[3] = shapeShape;
    out[4] = shapeLevel;
    out[5] = levelLevel;
  };
  return { center, exactCount, evaluate };
}

/** Beyond this exponent exp(-D) is zero in doubles, and D times anything may overflow. */
const FAR = 700;
/** Below this D is log(1 - exp(-D)) = log D, which does not underflow. */
const TINY = 1e-290;

/**
 * log [S(a) - S(b)] with its derivatives, written to out[at..at+5]. y = log a - center (-Infinity for a = 0),
 * yTo = log b - center (Infinity for right-censored), width = log(b / a).
 * With D = H(b) - H(a): -H(a) + log(1 - exp(-D)), in ratios that stay finite for wide and for narrow intervals.
 */
export function logProbability(
  shape: number,
  level: number,
  y: number,
  yTo: number,
  width: number,
  out: Float64Array,
  at: number,
): void {
  const startsAtZero = y === Number.NEGATIVE_INFINITY;
  const hazard = startsAtZero ? 0 : Math.exp(shape * y + level);
  const slope = startsAtZero ? 0 : hazard * y;
  let value = -hazard;
  let dShape = -slope;
  let dLevel = -hazard;
  let shapeShape = startsAtZero ? 0 : -slope * y;
  let shapeLevel = -slope;
  let levelLevel = -hazard;
  if (yTo !== Number.POSITIVE_INFINITY) {
    const growth = startsAtZero ? Number.POSITIVE_INFINITY : Math.expm1(shape * width);
    const isSteep = growth === Number.POSITIVE_INFINITY;
    const difference = isSteep ? Math.exp(shape * yTo + level) : hazard * growth;
    const probability = -Math.expm1(-difference);
    let a = 0;
    let b = 0;
    if (difference < TINY) {
      value += isSteep ? shape * yTo + level : shape * y + level + Math.log(growth);
      a = 1;
      b = 1;
    } else if (difference < FAR) {
      value += Math.log(probability);
      a = (difference * (1 - probability)) / probability;
      b = a * a + a * difference;
    }
    // H(b) / D
    const ratio = isSteep ? 1 : 1 + 1 / growth;
    const first = startsAtZero ? yTo : y + ratio * width;
    const second = startsAtZero ? yTo * yTo : y * y + ratio * width * (y + yTo);
    dShape += a * first;
    dLevel += a;
    shapeShape += a * second - b * first * first;
    shapeLevel += (a - b) * first;
    levelLevel += a - b;
  }
  out[at] = value;
  out[at + 1] = dShape;
  out[at + 2] = dLevel;
  out[at + 3] = shapeShape;
  out[at + 4] = shapeLevel;
  out[at + 5] = levelLevel;
}

/** log sum_i w_i [S(a_i) - S(b_i)] with its derivatives, written to out[0..5]. */
export function logAverage(
  shape: number,
  level: number,
  mixture: Mixture,
  scratch: Float64Array,
  out: Float64Array,
): void {
  const { length, logWeights, from, to, width } = mixture;
  let largest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < length; i++) {
    logProbability(shape, level, from[i]!, to[i]!, width[i]!, scratch, 6 * i);
    const value = scratch[6 * i]! + logWeights[i]!;
    scratch[6 * i] = value;
    if (value > largest) largest = value;
  }
  let sum = 0;
  let dShape = 0;
  let dLevel = 0;
  let shapeShape = 0;
  let shapeLevel = 0;
  let levelLevel = 0;
  for (let i = 0; i < length; i++) {
    const weight = Math.exp(scratch[6 * i]! - largest);
    if (weight === 0) continue;
    const u = scratch[6 * i + 1]!;
    const v = scratch[6 * i + 2]!;
    sum += weight;
    dShape += weight * u;
    dLevel += weight * v;
    shapeShape += weight * (scratch[6 * i + 3]! + u * u);
    shapeLevel += weight * (scratch[6 * i + 4]! + u * v);
    levelLevel += weight * (scratch[6 * i + 5]! + v * v);
  }
  dShape /= sum;
  dLevel /= sum;
  out[0] = largest + Math.log(sum);
  out[1] = dShape;
  out[2] = dLevel;
  out[3] = shapeShape / sum - dShape * dShape;
  out[4] = shapeLevel / sum - dShape * dLevel;
  out[5] = levelLevel / sum - dLevel * dLevel;
}

export function rangedOf(sample: LifeSample, row: number, count: number, center: number): Ranged {
  const relative = (age: number): number => age * Math.exp(-center);
  const ranged = {
    count,
    lower: relative(sample.lower[row]!),
    lowerHigh: relative(sample.lowerHigh[row]!),
    upper: relative(sample.upper[row]!),
    upperHigh: relative(sample.upperHigh[row]!),
  };
  const ratio = Math.max(
    ranged.lowerHigh > 0 ? ranged.lowerHigh / ranged.lower : 1,
    ranged.upper < Number.POSITIVE_INFINITY ? ranged.upperHigh / ranged.upper : 1,
  );
  const { nodes, weights } = gaussLegendre(ratio < 1.6 ? 12 : ratio < 7 ? 20 : 32);
  const points = emptyMixture(nodes.length);
  for (let i = 0; i < nodes.length; i++) setPoint(ranged, nodes[i]!, weights[i]!, points, i);
  return { ...ranged, points };
}

type Ends = Omit<Ranged, "count" | "points">;

/**
 * Only the averages of S at either end enter, so the ends are paired at the same fraction of their ranges: every
 * term S(a_i) - S(b_i) is positive, whatever the dependence between the two ends.
 */
function setPoint(ends: Ends, fraction: number, weight: number, points: Mixture, i: number): void {
  const from = ends.lower + fraction * (ends.lowerHigh - ends.lower);
  const isOpen = ends.upper === Number.POSITIVE_INFINITY;
  const to = isOpen ? ends.upper : ends.upper + fraction * (ends.upperHigh - ends.upper);
  points.logWeights[i] = Math.log(weight);
  points.from[i] = Math.log(from);
  points.to[i] = Math.log(to);
  points.width[i] = Math.log1p((to - from) / from);
}

/** S falls, within a range, over a part of it too narrow for the ready points. */
export function isSteep(ends: Ranged, shape: number, level: number): boolean {
  const scale = Math.exp(-level / shape);
  const steepness = (low: number, high: number): number =>
    high > low ? (shape * (high - low)) / Math.min(high, Math.max(scale, low)) : 0;
  const lower = steepness(ends.lower, ends.lowerHigh);
  const upper = ends.upper === Number.POSITIVE_INFINITY ? 0 : steepness(ends.upper, ends.upperHigh);
  return Math.max(lower, upper) > 0.25 * ends.points.length;
}

/** Points in panels that end where log H passes the steps of `PANEL_ENDS` at either end of the life. */
export function panelPoints(ends: Ranged, shape: number, level: number, points: Mixture): Mixture {
  const breaks = [0, 1];
  for (const logHazard of PANEL_ENDS) {
    const age = Math.exp((logHazard - level) / shape);
    if (age > ends.lower && age < ends.lowerHigh) breaks.push((age - ends.lower) / (ends.lowerHigh - ends.lower));
    if (age > ends.upper && age < ends.upperHigh) breaks.push((age - ends.upper) / (ends.upperHigh - ends.upper));
  }
  breaks.sort((a, b) => a - b);
  const { nodes, weights } = gaussLegendre(PANEL_POINTS);
  let length = 0;
  for (let panel = 1; panel < breaks.length; panel++) {
    const start = breaks[panel - 1]!;
    const size = breaks[panel]! - start;
    if (size <= 0) continue;
    for (let k = 0; k < PANEL_POINTS; k++) {
      setPoint(ends, start + size * nodes[k]!, size * weights[k]!, points, length);
      length++;
    }
  }
  points.length = length;
  return points;
}

export function meanLogFailureAge(sample: LifeSample): number {
  let sum = 0;
  let total = 0;
  for (let row = 0; row < sample.n; row++) {
    const age = typicalFailureAge(sample, row);
    if (age === null) continue;
    sum += sample.count[row]! * Math.log(age);
    total += sample.count[row]!;
  }
  return total > 0 ? sum / total : 0;
}

/** The middle of what is known about a failure's age, for starting values; null for a life that had not failed. */
export function typicalFailureAge(sample: LifeSample, row: number): number | null {
  if (sample.upper[row] === Number.POSITIVE_INFINITY) return null;
  return 0.25 * (sample.lower[row]! + sample.lowerHigh[row]! + sample.upper[row]! + sample.upperHigh[row]!);
}
