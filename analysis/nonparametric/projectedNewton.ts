import { curvature, derivative, type HazardProblem, logLikelihood } from "./hazardLikelihood.ts";
import { solveCholesky } from "./solveCholesky.ts";

export interface HazardMaximum {
  readonly hazard: Float64Array;
  readonly gradient: Float64Array;
  readonly iterations: number;
  /** Largest violation of the Kuhn-Tucker conditions per life. */
  readonly residual: number;
}

const goal = 1e-11;
const mostIterations = 200;

/**
 * Climbs from `start` to the maximum over hazards >= 0 by Newton steps on the cells that are free, projected on x >= 0,
 * with an Armijo line search. Cells that no life tells apart leave directions without curvature; a ridge that goes with
 * the gradient keeps the step there to about one hazard, and shrinks while full steps succeed.
 *
 * Accuracy  Stops when no derivative exceeds 1e-11 per life (0 +- 1e-11 where x > 0), or at 200 steps. A step costs
 *           size^3 / 6.
 * Source    Projected Newton: Bertsekas (1982), SIAM J. Control Optim. 20, 221-246.
 */
export function projectedNewton(problem: HazardProblem, start: Float64Array): HazardMaximum {
  let hazard = start;
  let value = logLikelihood(problem, hazard);
  let gradient = derivative(problem, hazard);
  let iterations = 0;
  let ridge = 1;
  while (residualOf(problem, hazard, gradient) > goal && iterations < mostIterations) {
    iterations += 1;
    const step = newtonStep(problem, hazard, gradient, ridge);
    const next = lineSearch(problem, hazard, gradient, step, value);
    if (next === null && ridge >= 1) break;
    ridge = nextRidge(ridge, next?.length ?? 0);
    if (next === null) continue;
    hazard = next.hazard;
    value = next.value;
    gradient = derivative(problem, hazard);
  }
  return { hazard, gradient, iterations, residual: residualOf(problem, hazard, gradient) };
}

/** A full step calls for less of a ridge, a step cut short for more. */
function nextRidge(ridge: number, length: number): number {
  if (length > 0.3) return Math.max(1e-6, ridge / 10);
  return length > 0.03 ? ridge : Math.min(1, ridge * 10);
}

/** Largest violation of the Kuhn-Tucker conditions per life. A cell without cost is settled elsewhere. */
function residualOf({ size, cost, lives }: HazardProblem, hazard: Float64Array, gradient: Float64Array): number {
  let worst = 0;
  for (let k = 0; k < size; k += 1) {
    if (cost[k] === 0) continue;
    const slope = gradient[k] ?? 0;
    worst = Math.max(worst, (hazard[k] ?? 0) > 0 ? Math.abs(slope) : slope);
  }
  return worst / lives;
}

/** Newton direction on the free cells; the others (at zero and wanting to go below) stay. */
function newtonStep(problem: HazardProblem, hazard: Float64Array, gradient: Float64Array, ridge: number): Float64Array {
  const { size, cost, lives } = problem;
  const free: number[] = [];
  for (let k = 0; k < size; k += 1) {
    if (cost[k] === 0) continue;
    if ((hazard[k] ?? 0) > 0 || (gradient[k] ?? 0) > goal * lives) free.push(k);
  }
  const hessian = curvature(problem, hazard, free);
  const steepest = free.reduce((most, k) => Math.max(most, Math.abs(gradient[k] ?? 0)), 0);
  const usual = free.reduce((sum, k) => sum + (hazard[k] ?? 0), 0) / free.length;
  for (let a = 0; a < free.length; a += 1) {
    const row = hessian[a];
    if (row !== undefined) row[a] = (row[a] ?? 0) + (ridge * steepest) / Math.max(usual, 1e-9);
  }
  const direction = solveCholesky(
    hessian,
    Float64Array.from(free, (k) => gradient[k] ?? 0),
  );
  const step = new Float64Array(size);
  free.forEach((k, at) => {
    step[k] = direction[at] ?? 0;
  });
  return step;
}

function lineSearch(
  problem: HazardProblem,
  hazard: Float64Array,
  gradient: Float64Array,
  step: Float64Array,
  value: number,
): { readonly hazard: Float64Array; readonly value: number; readonly length: number } | null {
  const before = residualOf(problem, hazard, gradient);
  for (let length = 1; length > 1e-12; length /= 2) {
    const next = hazard.map((x, k) => Math.max(0, x + length * (step[k] ?? 0)));
    const nextValue = logLikelihood(problem, next);
    if (!Number.isFinite(nextValue)) continue;
    const promised = next.reduce((sum, x, k) => sum + (gradient[k] ?? 0) * (x - (hazard[k] ?? 0)), 0);
    if (nextValue - value >= 1e-4 * promised && nextValue > value) return { hazard: next, value: nextValue, length };
    // Near the maximum the value no longer tells steps apart; the conditions themselves still do.
    const small = Math.abs(nextValue - value) <= 1e-12 * (1 + Math.abs(value));
    if (small && residualOf(problem, next, derivative(problem, next)) < before)
      return { hazard: next, value: nextValue, length };
  }
  return null;
}
