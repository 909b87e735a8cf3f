import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { hessianAt, type Jet } from "./linkedLikelihood.ts";

export interface Climbed {
  readonly theta: Float64Array;
  readonly jet: Jet;
  readonly iterations: number;
  readonly converged: boolean;
}

/** A step of a log parameter is never longer than this: the likelihood is not concave far from its top. */
const LONGEST_STEP = 1;
/** A gain of log likelihood that no reading can show. */
const NOTHING = 1e-6;
/** A step of log parameters that no reading can show. */
const SHORTEST_STEP = 1e-6;

/**
 * The region searched, for log shape and log scale of defect and delay. A delay whose shape runs to 0 means "at once or
 * never", one whose shape runs up means "after one and the same time": at these limits the lives no longer tell.
 */
export interface Region {
  readonly low: readonly number[];
  readonly high: readonly number[];
}

/**
 * Newton's method over the free parameters, the others held: curvature is made negative definite where it is not (by a
 * multiple of the identity), steps are damped until the likelihood does not fall. A parameter at the edge of the region
 * that would leave it is held there.
 */
export function climbFree(
  at: (theta: Float64Array) => Jet,
  start: Float64Array,
  free: readonly number[],
  region: Region,
  { maxIterations = 100, tolerance = 1e-9 } = {},
): Climbed {
  let theta = inside(Float64Array.from(start), region);
  let jet = at(theta);
  let idle = 0;
  for (let iteration = 1; iteration <= maxIterations; iteration++) {
    const moving = free.filter((parameter) => !pressesOut(theta[parameter]!, jet[1 + parameter]!, parameter, region));
    if (moving.length === 0) return { theta, jet, iterations: iteration, converged: true };
    const tried = bestStep(at, theta, jet, moving, region);
    const { step, next, nextJet, shortened } = tried;
    const promised = moving.reduce((sum, parameter, place) => sum + (jet[1 + parameter]! * step[place]!) / 2, 0);
    if (next === null || nextJet === null) {
      // Nothing gains: the top, or a ridge so sharp that the steps left are shorter than any reading shows.
      const settled = Math.abs(promised) < NOTHING || Math.max(...step.map(Math.abs)) < SHORTEST_STEP;
      return { theta, jet, iterations: iteration, converged: settled };
    }
    // A step that promised next to nothing and gained nothing the quadrature can tell: this is the top.
    const gained = nextJet[0]! - jet[0]!;
    const travelled = Math.max(...moving.map((parameter) => Math.abs(next[parameter]! - theta[parameter]!)));
    theta = next;
    jet = nextJet;
    const still = Math.abs(promised) < NOTHING && gained < 1e-12 * Math.abs(jet[0]!);
    // Five steps in a row without a gain that counts: a ridge too sharp for the quadrature to climb any higher.
    idle = gained < 1e-9 * Math.abs(jet[0]!) ? idle + 1 : 0;
    if ((travelled < tolerance && !shortened) || still || idle >= 5)
      return { theta, jet, iterations: iteration, converged: true };
  }
  return { theta, jet, iterations: maxIterations, converged: false };
}

interface Tried {
  readonly step: readonly number[];
  /** Null where no damping gave a step that gains. */
  readonly next: Float64Array | null;
  readonly nextJet: Jet | null;
  readonly shortened: boolean;
}

/**
 * The Newton step, damped until the likelihood does not fall: more and more of a multiple of the identity turns the step
 * towards the gradient, which a sharp ridge asks for (Levenberg 1944, Quart. Appl. Math. 2, 164-168).
 */
function bestStep(
  at: (theta: Float64Array) => Jet,
  theta: Float64Array,
  jet: Jet,
  moving: readonly number[],
  region: Region,
): Tried {
  let ridge = 0;
  let step: readonly number[] = [];
  for (let attempt = 0; attempt < 24; attempt++) {
    const damped = newtonStep(jet, moving, ridge);
    const longest = Math.max(...damped.step.map(Math.abs));
    const shorten = Math.min(1, LONGEST_STEP / longest);
    step = damped.step.map((value) => value * shorten);
    const next = moved(theta, step, moving, region);
    const nextJet = at(next);
    if (nextJet[0]! >= jet[0]! - 1e-12 * Math.abs(jet[0]!))
      return { step, next, nextJet, shortened: shorten < 1 || ridge > 0 };
    ridge = Math.max(damped.ridge * 8, 1e-3 * damped.size);
  }
  return { step, next: null, nextJet: null, shortened: true };
}

function pressesOut(value: number, slope: number, parameter: number, { low, high }: Region): boolean {
  return (value <= low[parameter]! && slope < 0) || (value >= high[parameter]! && slope > 0);
}

function inside(theta: Float64Array, { low, high }: Region): Float64Array {
  return theta.map((value, parameter) => Math.min(high[parameter]!, Math.max(low[parameter]!, value)));
}

function moved(theta: Float64Array, step: readonly number[], moving: readonly number[], region: Region): Float64Array {
  const next = Float64Array.from(theta);
  moving.forEach((parameter, place) => {
    next[parameter]! += step[place]!;
  });
  return inside(next, region);
}

/** Solves (-Hessian + ridge I) step = gradient, raising the ridge until the matrix is positive definite. */
function newtonStep(
  jet: Jet,
  free: readonly number[],
  leastRidge: number,
): { readonly step: readonly number[]; readonly ridge: number; readonly size: number } {
  const information = new Matrix(
    free.map((row) => free.map((column) => -jet[hessianAt(Math.min(row, column), Math.max(row, column))]!)),
  );
  const gradient = Matrix.columnVector(free.map((parameter) => jet[1 + parameter]!));
  const size = Math.max(1e-6, ...information.diagonal().map(Math.abs));
  for (let ridge = leastRidge; ; ridge = ridge === 0 ? 1e-6 * size : ridge * 10) {
    const factors = new CholeskyDecomposition(Matrix.add(information, Matrix.eye(free.length).mul(ridge)));
    if (factors.isPositiveDefinite()) return { step: factors.solve(gradient).to1DArray(), ridge, size };
  }
}
