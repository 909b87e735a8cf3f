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

/**
 * Newton's method over the free parameters, the others held: curvature is made negative definite where it is not (by a
 * multiple of the identity), steps are halved until the likelihood does not fall.
 */
export function climbFree(
  at: (theta: Float64Array) => Jet,
  start: Float64Array,
  free: readonly number[],
  { maxIterations = 100, tolerance = 1e-9 } = {},
): Climbed {
  let theta: Float64Array = Float64Array.from(start);
  let jet = at(theta);
  for (let iteration = 1; iteration <= maxIterations; iteration++) {
    const step = newtonStep(jet, free);
    const longest = Math.max(...step.map(Math.abs));
    const shorten = Math.min(1, LONGEST_STEP / longest);
    let factor = shorten;
    let next = moved(theta, step, factor, free);
    let nextJet = at(next);
    while (!(nextJet[0]! >= jet[0]! - 1e-12 * Math.abs(jet[0]!)) && factor > 1e-10) {
      factor /= 4;
      next = moved(theta, step, factor, free);
      nextJet = at(next);
    }
    if (factor <= 1e-10) return { theta, jet, iterations: iteration, converged: longest < 1e-5 };
    theta = next;
    jet = nextJet;
    if (longest * factor < tolerance && shorten === 1) return { theta, jet, iterations: iteration, converged: true };
  }
  return { theta, jet, iterations: maxIterations, converged: false };
}

function moved(theta: Float64Array, step: readonly number[], factor: number, free: readonly number[]): Float64Array {
  const next = Float64Array.from(theta);
  free.forEach((parameter, place) => {
    next[parameter]! += factor * step[place]!;
  });
  return next;
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
