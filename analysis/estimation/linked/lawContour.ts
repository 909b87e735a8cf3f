import { Matrix, pseudoInverse } from "ml-matrix";
import { AnalysisError } from "../../errors.ts";
import { chiSquareQuantile } from "../../numerics/index.ts";
import { climbFree, type Region } from "./climbFree.ts";
import { type LinkedFound, regionFor } from "./fitLinked.ts";
import { hessianAt, linkedLikelihood } from "./linkedLikelihood.ts";
import type { LinkedHistory } from "./types.ts";

export interface ContourPoint {
  readonly shape: number;
  readonly scale: number;
  /** The likelihood never fell enough in this direction: the point stands for infinity. */
  readonly open: boolean;
}

/** Laws that the lives do not contradict: where twice the profile log likelihood has fallen by chi-square(confidence, 1). */
export interface LawContour {
  readonly of: "defect" | "delay";
  readonly confidence: number;
  readonly points: readonly ContourPoint[];
}

const RAYS = 16;
/** Points of the drawn contour, between the rays by trigonometric interpolation of the radius. */
const POINTS = 160;
/** Farther than this, in standard errors along a ray, counts as open. */
const FARTHEST = 12;

/**
 * Profile-likelihood contour of one of the two laws, the other re-maximised at every point. The least and the greatest
 * value of any quantity of that law on it are its likelihood-ratio bounds.
 *
 * Accuracy  The radius is found along 16 rays to 0.1 % and interpolated between them by a trigonometric polynomial.
 */
export function lawContour(
  fit: LinkedFound,
  histories: readonly LinkedHistory[],
  of: "defect" | "delay",
  confidence: number,
): LawContour {
  if (!(confidence > 0 && confidence < 1))
    throw new AnalysisError("bad-setting", { setting: "confidence", value: confidence });
  const [own, other] = of === "defect" ? [[0, 1] as const, [2, 3]] : [[2, 3] as const, [0, 1]];
  const drop = 0.5 * chiSquareQuantile(confidence, 1);
  const estimate = Float64Array.from(fit.theta);
  const region = regionFor(histories);
  const held = other.filter(
    (parameter) => estimate[parameter]! > region.low[parameter]! && estimate[parameter]! < region.high[parameter]!,
  );
  const axes = standardAxes(linkedLikelihood(histories, estimate), own, held);
  const radii: { radius: number; open: boolean }[] = [];
  let guess = Math.sqrt(2 * drop);

  for (let ray = 0; ray < RAYS; ray++) {
    const [dx, dy] = direction(axes, (2 * Math.PI * ray) / RAYS);
    const farthest = reach(estimate, own, [dx, dy], region);
    let nuisance: Float64Array = estimate;
    const fallen = (radius: number): number => {
      const at = Float64Array.from(nuisance);
      at[own[0]] = estimate[own[0]]! + radius * dx;
      at[own[1]] = estimate[own[1]]! + radius * dy;
      const climbed = climbFree((theta) => linkedLikelihood(histories, theta), at, other, region, {
        maxIterations: 40,
        tolerance: 1e-4,
      });
      if (Number.isFinite(climbed.jet[0]!)) nuisance = climbed.theta;
      return fit.logLikelihood - climbed.jet[0]!;
    };
    const radius = crossing(fallen, drop, Math.min(guess, farthest), farthest);
    radii.push({ radius: radius ?? farthest, open: radius === null });
    if (radius !== null) guess = radius;
  }
  const radiusAt = interpolated(radii.map(({ radius }) => radius));
  const points = Array.from({ length: POINTS }, (_, index): ContourPoint => {
    const angle = (2 * Math.PI * index) / POINTS;
    const [dx, dy] = direction(axes, angle);
    const radius = radiusAt(angle);
    return {
      shape: Math.exp(estimate[own[0]]! + radius * dx),
      scale: Math.exp(estimate[own[1]]! + radius * dy),
      open: radii[Math.round((index * RAYS) / POINTS) % RAYS]!.open,
    };
  });
  return { of, confidence, points };
}

/** How far a ray may go: twelve standard errors, or the edge of the region searched. */
function reach(
  estimate: Float64Array,
  own: readonly [number, number],
  ray: readonly [number, number],
  { low, high }: Region,
): number {
  const limits = own.map((parameter, place) => {
    const step = ray[place]!;
    const room = (step > 0 ? high[parameter]! : low[parameter]!) - estimate[parameter]!;
    return step === 0 ? FARTHEST : room / step;
  });
  return Math.min(FARTHEST, ...limits);
}

const direction = ([l11, l21, l22]: readonly [number, number, number], angle: number): readonly [number, number] => [
  l11 * Math.cos(angle),
  l21 * Math.cos(angle) + l22 * Math.sin(angle),
];

/** The trigonometric polynomial through equally spaced values (an even number of them). */
function interpolated(values: readonly number[]): (angle: number) => number {
  const n = values.length;
  const waves = Array.from({ length: n / 2 + 1 }, (_, k) => {
    const half = k === 0 || k === n / 2 ? 1 : 2;
    const sum = (wave: (x: number) => number) =>
      values.reduce((total, value, j) => total + value * wave((2 * Math.PI * j * k) / n), 0);
    return { cos: (half * sum(Math.cos)) / n, sin: k === n / 2 ? 0 : (half * sum(Math.sin)) / n };
  });
  return (angle) =>
    waves.reduce((total, { cos, sin }, k) => total + cos * Math.cos(k * angle) + sin * Math.sin(k * angle), 0);
}

/** Least and greatest value of a quantity of the law on the contour; null where that end is open. */
export function boundsOnContour(
  contour: LawContour,
  quantity: (law: { shape: number; scale: number }) => number,
): { lower: number | null; upper: number | null } {
  const values = contour.points.map((point) => ({
    value: quantity(point),
    open: point.open || Number.isNaN(quantity(point)),
  }));
  const least = values.reduce((a, b) => (b.value < a.value ? b : a));
  const greatest = values.reduce((a, b) => (b.value > a.value ? b : a));
  return { lower: least.open ? null : least.value, upper: greatest.open ? null : greatest.value };
}

/** Root of 2 x fall = cut along a ray: the fall is nearly a parabola, so the square root of it is nearly a line. */
function crossing(fallen: (radius: number) => number, drop: number, guess: number, farthest: number): number | null {
  const cut = Math.sqrt(drop);
  // Where the lives are impossible under the law the fall has no end; any large fall serves to come back.
  const at = (radius: number) => Math.min(100, Math.sqrt(Math.max(0, fallen(radius)))) - cut;
  let [low, atLow] = [0, -cut];
  let high = guess;
  let atHigh = at(high);
  if (Math.abs(atHigh) < 1e-3 * cut) return high;
  while (!(atHigh >= 0)) {
    [low, atLow] = [high, atHigh];
    if (high >= farthest) return null;
    high = Math.min(farthest, high * 1.4);
    atHigh = at(high);
  }
  // Illinois method: a secant that cannot stall at one end.
  for (let iteration = 0; iteration < 40; iteration++) {
    const radius = (low * atHigh - high * atLow) / (atHigh - atLow);
    const value = at(radius);
    if (Math.abs(value) < 1e-3 * cut) return radius;
    if (value < 0) {
      [low, atLow] = [radius, value];
      atHigh /= 2;
    } else {
      [high, atHigh] = [radius, value];
      atLow /= 2;
    }
  }
  return high;
}

/**
 * Cholesky factor of the covariance of the law's two log parameters, [l11, l21, l22], the other parameters estimated too
 * (those not at an edge). Only a scale for the rays: their ends are found on the likelihood itself.
 */
function standardAxes(
  jet: Float64Array,
  own: readonly [number, number],
  others: readonly number[],
): readonly [number, number, number] {
  const all = [...own, ...others];
  const information = new Matrix(all.map((i) => all.map((j) => -jet[hessianAt(Math.min(i, j), Math.max(i, j))]!)));
  const covariance = pseudoInverse(information);
  const [a, b, c] = [covariance.get(0, 0), covariance.get(0, 1), covariance.get(1, 1)];
  const l22 = c - (b * b) / a;
  // At an edge the curvature may say nothing: then the rays go by whole log units.
  if (!(a > 0 && l22 > 0 && Number.isFinite(a + b + c))) return [1, 0, 1];
  return [Math.sqrt(a), b / Math.sqrt(a), Math.sqrt(l22)];
}
