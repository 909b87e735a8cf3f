import { AnalysisError } from "../errors.ts";
import { findRoot } from "../numerics/index.ts";
import { type RepairedTool, type RepairKind, type Stretch, virtualAgePath } from "./virtualAgePath.ts";
import { hazardRise, virtualAgeScore } from "./virtualAgeScore.ts";

export interface VirtualAgeAt {
  readonly q: number;
  readonly shape: number;
  readonly scale: number;
  readonly logLikelihood: number;
}

export interface VirtualAgeFit extends VirtualAgeAt {
  readonly kind: RepairKind;
  /** The maximum lies at q = 0 (as good as new), or still rises at the largest q tried: q is then no estimate. */
  readonly edge: "as good as new" | "not bounded" | null;
  /** Of (log shape, log scale, q); null at an edge, or where the surface is flat. */
  readonly covariance: readonly (readonly number[])[] | null;
  /** Highest first: other repair factors at which the likelihood has a maximum, within 2 log units of the best. */
  readonly otherMaxima: readonly VirtualAgeAt[];
}

const tried = [
  0, 1e-5, 1e-4, 5e-4, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55,
  0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95, 1, 1.05, 1.1, 1.25, 1.5, 2, 3, 5, 8, 12,
];

/**
 * What repair does to a tool's age, by maximum likelihood over shape, scale and repair factor.
 *
 * The repair factor is weakly identified: the likelihood can have several maxima, also at its edge. The profile over q is
 * walked on a grid from 0 to 12, each maximum on it is settled by the root of its slope, and the highest is followed.
 *
 * @param tools  At least 3 failures in all; lengths above 0 (the running one may be 0).
 * Errors        "bad-setting" otherwise.
 * Source        Kijima (1989), J. Appl. Prob. 26, 89-102; Yanez, Joglar & Modarres (2002), Rel. Eng. Sys. Safety 77, 167-180.
 */
export function virtualAge(tools: readonly RepairedTool[], kind: RepairKind): VirtualAgeFit {
  check(tools);
  const slope = (q: number): number => {
    const { shape, scale } = virtualAgeAt(tools, kind, q);
    return virtualAgeScore(virtualAgePath(tools, kind, q), shape, scale).score[2];
  };
  const slopes = tried.map(slope);
  const maxima: VirtualAgeAt[] = [];
  if (slopes[0]! <= 0) maxima.push(virtualAgeAt(tools, kind, 0));
  for (let i = 1; i < tried.length; i++) {
    if (!(slopes[i - 1]! > 0 && slopes[i]! <= 0)) continue;
    const root = findRoot(slope, tried[i - 1]!, tried[i]!, { atLow: bounded(slopes[i - 1]!), atHigh: slopes[i]! });
    maxima.push(virtualAgeAt(tools, kind, root));
  }
  if (slopes.at(-1)! > 0) maxima.push(virtualAgeAt(tools, kind, tried.at(-1)!));
  maxima.sort((a, b) => b.logLikelihood - a.logLikelihood);
  const best = maxima[0]!;
  const edge = best.q === 0 ? "as good as new" : best.q === tried.at(-1) ? "not bounded" : null;
  return {
    kind,
    ...best,
    edge,
    covariance: edge === null ? covarianceAt(tools, kind, best) : null,
    otherMaxima: maxima.slice(1).filter((other) => best.logLikelihood - other.logLikelihood < 2),
  };
}

/** Shape and scale that fit best under one repair factor. q = 0 is the Weibull renewal fit, q = 1 the power-law process. */
export function virtualAgeAt(tools: readonly RepairedTool[], kind: RepairKind, q: number): VirtualAgeAt {
  const stretches = virtualAgePath(tools, kind, q);
  const unit = Math.max(...stretches.map(({ from, length }) => from + length));
  const failed = stretches.filter((stretch) => stretch.failed);
  const n = failed.length;
  const logs = failed.reduce((sum, { from, length }) => sum + Math.log((from + length) / unit), 0);
  const sums = (shape: number): { rise: number; riseByShape: number } => {
    let rise = 0;
    let riseByShape = 0;
    for (const { from, length } of stretches) {
      const one = hazardRise(from / unit, length / unit, shape);
      rise += one.rise;
      riseByShape += one.riseByShape;
    }
    return { rise, riseByShape };
  };
  // Slope in log shape at the scale that fits best for that shape.
  const score = (logShape: number): number => {
    const shape = Math.exp(logShape);
    const { rise, riseByShape } = sums(shape);
    return n + shape * logs - (shape * n * riseByShape) / rise;
  };
  let low = 0;
  let high = 0;
  while (score(low) < 0 && low > -8) low -= 0.5;
  while (score(high) > 0 && high < 8) high += 0.5;
  const shape = Math.exp(low < high ? findRoot(score, low, high) : low);
  const scale = unit * (sums(shape).rise / n) ** (1 / shape);
  return { q, shape, scale, logLikelihood: virtualAgeScore(stretches, shape, scale).logLikelihood };
}

/** Inverse of the observed information, by central differences of the exact slopes at two steps (Richardson). */
function covarianceAt(
  tools: readonly RepairedTool[],
  kind: RepairKind,
  best: VirtualAgeAt,
): VirtualAgeFit["covariance"] {
  const centre = [Math.log(best.shape), Math.log(best.scale), best.q] as const;
  const at = (point: readonly number[]): readonly number[] => {
    const stretches: readonly Stretch[] = virtualAgePath(tools, kind, point[2]!);
    return virtualAgeScore(stretches, Math.exp(point[0]!), Math.exp(point[1]!)).score;
  };
  const difference = (j: number, step: number): readonly number[] => {
    const up = at(centre.map((x, i) => (i === j ? x + step : x)));
    const down = at(centre.map((x, i) => (i === j ? x - step : x)));
    return up.map((value, i) => (value - down[i]!) / (2 * step));
  };
  const information = centre.map((_, j) => {
    const step = j === 2 ? 1e-3 * best.q : 1e-3;
    const wide = difference(j, 2 * step);
    return difference(j, step).map((value, i) => -(4 * value - wide[i]!) / 3);
  });
  const m = (i: number, j: number): number => (information[i]![j]! + information[j]![i]!) / 2;
  const minor = (r: number, c: number): number => {
    const [a, b] = [0, 1, 2].filter((i) => i !== r) as [number, number];
    const [d, e] = [0, 1, 2].filter((i) => i !== c) as [number, number];
    return m(a, d) * m(b, e) - m(a, e) * m(b, d);
  };
  const determinant = m(0, 0) * minor(0, 0) - m(0, 1) * minor(0, 1) + m(0, 2) * minor(0, 2);
  if (!(determinant > 0 && m(0, 0) > 0 && minor(2, 2) > 0)) return null;
  return [0, 1, 2].map((i) => [0, 1, 2].map((j) => ((i + j) % 2 === 0 ? 1 : -1) * (minor(j, i) / determinant)));
}

function bounded(slope: number): number {
  return Number.isFinite(slope) ? slope : Number.MAX_VALUE;
}

function check(tools: readonly RepairedTool[]): void {
  const lengths = tools.flatMap(({ intervals }) => intervals);
  const bad = lengths.find((length) => !(Number.isFinite(length) && length > 0));
  const running = tools.find((tool) => tool.running !== null && !(Number.isFinite(tool.running) && tool.running >= 0));
  if (lengths.length < 3 || bad !== undefined || running) {
    throw new AnalysisError("bad-setting", {
      setting: "stretches between failures",
      value: String(bad ?? running?.running ?? lengths.length),
      allowed: "at least 3 lengths above 0",
    });
  }
}
