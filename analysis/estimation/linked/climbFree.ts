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
 * multiple of the identity), steps are halved until the likelihood does not fall. A parameter at the edge of the region
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
  for (let iteration = 1; iteration <= maxIterations; iteration++) {
    const moving = free.filter((parameter) => !pressesOut(theta[parameter]!, jet[1 + parameter]!, parameter, region));
    if (moving.length === 0) return { theta, jet, iterations: iteration, converged: true };
    const step = newtonStep(jet, moving);
    const longest = Math.max(...step.map(Math.abs));
    const shorten = Math.min(1, LONGEST_STEP / longest);
    let factor = shorten;
    let next = moved(theta, step, factor, moving, region);
    let nextJet = at(next);
    while (!(nextJet[0]! >= jet[0]! - 1e-12 * Math.abs(jet[0]!)) && factor > 1e-10) {
      factor /= 4;
      next = moved(theta, step, factor, moving, region);
      nextJet = at(next);
    }
    const promised = moving.reduce((sum, parameter, place) => sum + (jet[1 + parameter]! * step[place]!) / 2, 0);
    if (factor <= 1e-10) return { theta, jet, iterations: iteration, converged: Math.abs(promised) < NOTHING };
    // A step that promised next to nothing and gained nothing the quadrature can tell: this is the top.
    const gained = nextJet[0]! - jet[0]!;
    const travelled = Math.max(...moving.map((parameter) => Math.abs(next[parameter]! - theta[parameter]!)));
    theta = next;
    jet = nextJet;
    const still = Math.abs(promised) < NOTHING && gained < 1e-12 * Math.abs(jet[0]!);
    if ((travelled < tolerance || still) && shorten === 1)
      return { theta, jet, iterations: iteration, converged: true };
  }
  return { theta, jet, iterations: maxIterations, converged: false };
}

function pressesOut(value: number, slope: number, parameter: number, { low, high }: Region): boolean {
  return (value <= low[parameter]! && slope < 0) || (value >= high[parameter]! && slope > 0);
}

function inside(theta: Float64Array, { low, high }: Region): Float64Array {
  return theta.map((value, parameter) => Math.min(high[parameter]!, Math.max(low[parameter]!, value)));
}

function moved(
  theta: Float64Array,
  step: readonly number[],
  factor: number,
  moving: readonly number[],
  region: Region,
): Float64Array {
  const next = Float64Array.from(theta);
  moving.forEach((parameter, place) => {
    next[parameter]! += factor * step[place]!;
  });
  return inside(next, region);
}

/** Solves (-Hessian + ridge I) step = gradient, raising the ridge until the matrix is positive definite. */
function newtonStep(jet: Jet, free: readonly number[]): number[] {
  const information = new Matrix(
    free.map((row) => free.map((column) => -jet[hessianAt(Math.min(row, column), Math.max(row, column))]!)),
  );
  const gradient = Matrix.columnVector(free.map((parameter) => jet[1 + parameter]!));
  const size = Math.max(1e-6, ...information.diagonal().map(Math.abs));
  for (let ridge = 0; ; ridge = ridge === 0 ? 1e-6 * size : ridge * 10) {
    const factors = new CholeskyDecomposition(Matrix.add(information, Matrix.eye(free.length).mul(ridge)));
    if (factors.isPositiveDefinite()) return factors.solve(gradient).to1DArray();
  }
}
