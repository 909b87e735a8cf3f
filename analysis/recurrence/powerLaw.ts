import { chiSquareQuantile, findRoot, normalQuantile } from "../numerics/index.ts";
import { checkSystems, commonEnd, type OrderedSystem } from "./checkSystems.ts";
import type { Bounds, FollowedSystem } from "./types.ts";

/** A power-law process: expected failures of one system by age t are M(t) = factor * t^shape. Shape 1: constant rate. */
export interface PowerLawFit {
  readonly failures: number;
  readonly shape: number;
  readonly factor: number;
  /** M(scale) = 1. */
  readonly scale: number;
  readonly logLikelihood: number;
  readonly confidence: number;
  /** Of (factor, shape), rows of the inverse of the observed information. */
  readonly covariance: readonly [readonly [number, number], readonly [number, number]];
  /** On the logarithm. */
  readonly waldBounds: { readonly shape: Bounds; readonly factor: Bounds };
  /** By likelihood ratio. */
  readonly profileBounds: Bounds;
  /** Given the numbers of failures; exact whatever the ends are. Null where only failures that ended an observation are known. */
  readonly conditional: {
    readonly failures: number;
    readonly shape: number;
    /** Null with a single failure. */
    readonly unbiasedShape: number | null;
    readonly bounds: Bounds;
    /** Cramér-von Mises distance from the law. */
    readonly cramerVonMises: number | null;
  } | null;
  /** Where all systems have the same end: closed forms there. */
  readonly atEnd: {
    readonly end: number;
    readonly exactBounds: Bounds | null;
    readonly unbiasedFactor: number | null;
    /** Failures an hour of one system at the end. */
    readonly intensity: number;
    readonly expected: number;
  } | null;
}

/**
 * Power-law process by maximum likelihood, over one or more systems followed from age 0.
 *   log L = n ln factor + n ln shape + (shape - 1) sum ln t - factor * sum end^shape
 *
 * @returns  Null without failures, and where every failure came at its system's end (the shape is then unbounded).
 * Source    Crow (1974), in Reliability and Biometry, 379-410; IEC 61710:2013; MIL-HDBK-189C (2011).
 */
export function powerLaw(
  systems: readonly FollowedSystem[],
  { confidence = 0.9 }: { readonly confidence?: number } = {},
): PowerLawFit | null {
  const checked = checkSystems(systems);
  const failures = checked.reduce((sum, system) => sum + system.failures.length, 0);
  const logAges = sumOver(checked, ({ failures: ages }) => ages.reduce((sum, age) => sum + Math.log(age), 0));
  const largest = Math.max(...checked.map((system) => system.end));
  if (failures === 0 || !(failures * Math.log(largest) - logAges > 0)) return null;

  // Ends as shares of the largest one, so that no power overflows.
  const ends = checked.map((system) => system.end / largest);
  const powers = (shape: number, order: 0 | 1 | 2): number =>
    ends.reduce((sum, end) => sum + end ** shape * Math.log(end) ** order, 0);
  const logShares = logAges - failures * Math.log(largest);
  const score = (shape: number): number => 1 / shape + logShares / failures - powers(shape, 1) / powers(shape, 0);
  const profile = (shape: number): number =>
    failures * (Math.log(failures / powers(shape, 0)) + Math.log(shape / largest) - 1) + (shape - 1) * logShares;
  const start = -failures / logShares;
  const above = outwards(start, 2, (shape) => score(shape) <= 0);
  if (above === null) return null;
  const shape = findRoot(score, outwards(start, 0.5, (at) => score(at) >= 0) ?? start, above);
  const factor = failures / (powers(shape, 0) * largest ** shape);
  const logLikelihood = profile(shape);

  const covariance = invert(
    failures / factor ** 2,
    sumOver(checked, ({ end }) => end ** shape * Math.log(end)),
    failures / shape ** 2 + factor * sumOver(checked, ({ end }) => end ** shape * Math.log(end) ** 2),
  );
  const z = normalQuantile(0.5 + confidence / 2);
  const onLog = (value: number, variance: number): Bounds => {
    const reach = Math.exp((z * Math.sqrt(variance)) / value);
    return { lower: value / reach, upper: value * reach };
  };
  const drop = chiSquareQuantile(confidence, 1) / 2;
  const fall = (at: number): number => profile(at) - logLikelihood + drop;
  const edge = (step: number): number =>
    findRoot(fall, shape, outwards(shape * step, step, (at) => fall(at) < 0) ?? shape);
  return {
    failures,
    shape,
    factor,
    scale: factor ** (-1 / shape),
    logLikelihood,
    confidence,
    covariance,
    waldBounds: { shape: onLog(shape, covariance[1][1]), factor: onLog(factor, covariance[0][0]) },
    profileBounds: { lower: edge(0.5), upper: edge(2) },
    conditional: conditionalShape(checked, confidence),
    atEnd: atCommonEnd(checked, { failures, shape, factor, logShares, confidence }),
  };
}

/** Shape given the counts: 2 * shape * sum ln(end/age) over the usable failures is chi-square with twice their number. */
function conditionalShape(systems: readonly OrderedSystem[], confidence: number): PowerLawFit["conditional"] {
  const shares = systems.flatMap(({ usable, end }) => usable.map((age) => age / end)).sort((a, b) => a - b);
  const m = shares.length;
  const logs = -shares.reduce((sum, share) => sum + Math.log(share), 0);
  if (!(logs > 0)) return null;
  const unbiasedShape = m > 1 ? (m - 1) / logs : null;
  const bound = (p: number): number => chiSquareQuantile(p, 2 * m) / (2 * logs);
  return {
    failures: m,
    shape: m / logs,
    unbiasedShape,
    bounds: { lower: bound((1 - confidence) / 2), upper: bound((1 + confidence) / 2) },
    cramerVonMises:
      unbiasedShape === null
        ? null
        : shares.reduce((sum, share, i) => sum + (share ** unbiasedShape - (2 * i + 1) / (2 * m)) ** 2, 1 / (12 * m)),
  };
}

interface Fitted {
  readonly failures: number;
  readonly shape: number;
  readonly factor: number;
  readonly logShares: number;
  readonly confidence: number;
}

function atCommonEnd(systems: readonly OrderedSystem[], fitted: Fitted): PowerLawFit["atEnd"] {
  const end = commonEnd(systems);
  if (end === null) return null;
  const { failures, shape, factor, logShares, confidence } = fitted;
  const free = failures - systems.filter((system) => system.endedBy === "failure").length;
  const unbiased = free > 1 ? (free - 1) / -logShares : null;
  const bound = (p: number): number => (shape * chiSquareQuantile(p, 2 * free)) / (2 * failures);
  return {
    end,
    exactBounds: free > 0 ? { lower: bound((1 - confidence) / 2), upper: bound((1 + confidence) / 2) } : null,
    unbiasedFactor: unbiased === null ? null : failures / (systems.length * end ** unbiased),
    intensity: factor * shape * end ** (shape - 1),
    expected: factor * end ** shape,
  };
}

/** First of start, start * step, start * step^2 ... at which it holds; null after 200. */
function outwards(start: number, step: number, holds: (at: number) => boolean): number | null {
  let at = start;
  for (let i = 0; i < 200; i++, at *= step) if (holds(at)) return at;
  return null;
}

function invert(a: number, b: number, d: number): PowerLawFit["covariance"] {
  const determinant = a * d - b * b;
  return [
    [d / determinant, -b / determinant],
    [-b / determinant, a / determinant],
  ];
}

function sumOver<T>(list: readonly T[], of: (one: T) => number): number {
  return list.reduce((sum, one) => sum + of(one), 0);
}
