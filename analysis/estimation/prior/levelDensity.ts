import { regularizedGammaP } from "../../numerics/index.ts";
import { bestLevel } from "../groups/shapeProfile.ts";
import type { LifeSample } from "../types.ts";
import { typicalFailureAge, type WeibullLikelihood } from "../weibullLikelihood.ts";

/** Distribution of level = shape (center - log scale) at one shape, up to a factor. */
export interface LevelDensity {
  /** Log of the integral of likelihood times prior over the level. */
  readonly logMass: number;
  /** P(level <= x) at this shape. */
  below(level: number): number;
}

/** H(t) summed over all lives is exp(level) * exposure(shape): the number of failures that a law expects of these lives. */
export function logExposure(sample: LifeSample, center: number, shape: number): number {
  let largest = Number.NEGATIVE_INFINITY;
  const logs: number[] = [];
  for (let row = 0; row < sample.n; row++) {
    const end = typicalFailureAge(sample, row) ?? 0.5 * (sample.lower[row]! + sample.lowerHigh[row]!);
    const entry = sample.entry[row]!;
    if (!(end > entry)) continue;
    const atEnd = shape * (Math.log(end) - center);
    const share = entry > 0 ? Math.log(-Math.expm1(shape * Math.log(entry / end))) : 0;
    const log = Math.log(sample.count[row]!) + atEnd + share;
    logs.push(log);
    if (log > largest) largest = log;
  }
  return largest + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - largest), 0));
}

/**
 * With exact and right-censored lives (truncated or not) the likelihood in M = exp(level) * exposure is M^r exp(-M) times
 * a function of the shape: with M uniform, M is gamma(r + 1).
 */
export function gammaLevelDensity(logMass: number, failures: number, logExposureHere: number): LevelDensity {
  return {
    logMass,
    below: (level) => regularizedGammaP(failures + 1, Math.exp(level + logExposureHere)),
  };
}

const PANELS = 40;

/**
 * For any lives: likelihood times M, as density of the level, integrated in panels around its top; between panel ends the
 * integral is interpolated by cubics that keep value and slope.
 *
 * @param isRough  Only the mass, as if the density were normal: enough to find where the posterior lies.
 * Accuracy        About 1e-6 of probability.
 */
export function numericLevelDensity(
  likelihood: WeibullLikelihood,
  shape: number,
  logExposureHere: number,
  isRough: boolean,
): LevelDensity {
  const at = new Float64Array(6);
  const logDensity = (level: number): number => {
    likelihood.evaluate(shape, level, at);
    return at[0]! + level + logExposureHere;
  };
  const tilted: WeibullLikelihood = {
    ...likelihood,
    evaluate: (k, level, out) => {
      likelihood.evaluate(k, level, out);
      out[0]! += level;
      out[2]! += 1;
    },
  };
  const top = bestLevel(tilted, shape, -logExposureHere);
  const peak = top.at[0]! + logExposureHere;
  const width = 1 / Math.sqrt(Math.max(1e-12, -top.at[5]!));
  if (isRough) return { logMass: peak + Math.log(width), below: () => Number.NaN };
  // The tail towards long lives falls like a power of the rate: followed until 1e-12 of the top.
  const reach = (side: 1 | -1): number => {
    let distance = width;
    while (logDensity(top.level + side * distance) > peak - 28 && distance < 1e3) distance *= 1.3;
    return distance;
  };
  const from = top.level - reach(-1);
  const to = top.level + reach(1);
  const step = (to - from) / PANELS;
  const density = new Float64Array(PANELS + 1);
  const middle = new Float64Array(PANELS);
  for (let i = 0; i <= PANELS; i++) density[i] = Math.exp(logDensity(from + i * step) - peak);
  for (let i = 0; i < PANELS; i++) middle[i] = Math.exp(logDensity(from + (i + 0.5) * step) - peak);
  const cumulative = new Float64Array(PANELS + 1);
  for (let i = 0; i < PANELS; i++) {
    cumulative[i + 1] = cumulative[i]! + (step / 6) * (density[i]! + 4 * middle[i]! + density[i + 1]!);
  }
  const total = cumulative[PANELS]!;
  return {
    logMass: peak + Math.log(total),
    below: (level) => {
      const place = (level - from) / step;
      if (place <= 0) return 0;
      if (place >= PANELS) return 1;
      const i = Math.floor(place);
      const x = place - i;
      // The density as the parabola through both ends and the middle, integrated from the left end.
      const [a, b, c] = [density[i]!, middle[i]!, density[i + 1]!];
      const area = a * x + (-3 * a + 4 * b - c) * (x * x * 0.5) + (2 * a - 4 * b + 2 * c) * (x ** 3 / 3);
      return Math.min(1, Math.max(0, (cumulative[i]! + step * area) / total));
    },
  };
}
