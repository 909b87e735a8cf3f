import type { CellLife } from "./innermostIntervals.ts";
import { solveCholesky } from "./solveCholesky.ts";

export interface CellHazards {
  /** Cumulative hazard of each cell, >= 0; Infinity where nothing outlasts the cell. */
  readonly hazard: Float64Array;
  readonly iterations: number;
  /** Largest derivative of the log-likelihood by a cell's hazard, per life, plus 1: at most 1 at the maximum. */
  readonly largestGradient: number;
  readonly converged: boolean;
  /** Whether no other hazards reach the same likelihood. */
  readonly unique: boolean;
}

interface Problem {
  readonly size: number;
  readonly cost: Float64Array;
  readonly lives: number;
  readonly gains: readonly { readonly count: number; readonly from: number; readonly to: number }[];
}

/**
 * Maximum-likelihood hazards of the cells. With x_k the cumulative hazard of cell k, a life contributes
 *   - sum of x over the cells it survived + log(1 - exp(- sum of x over the cells it failed in)),
 * which is concave in x >= 0, late entry or not: the Kuhn-Tucker conditions are sufficient. Maximised by Newton steps on
 * the cells that are free, projected on x >= 0, with an Armijo line search. Cells that no life tells apart leave
 * directions without curvature; a ridge that shrinks with the gradient keeps the step there to about one hazard.
 *
 * @param size  Number of cells.
 * Accuracy     Stops when no derivative exceeds 1e-11 per life (0 +- 1e-11 where x > 0), or at 200 steps. A step costs
 *              size^3 / 6.
 * Source       Projected Newton: Bertsekas (1982), SIAM J. Control Optim. 20, 221-246. Kuhn-Tucker certificate:
 *              Gentleman & Geyer (1994), Biometrika 81, 618-623.
 */
export function cellHazards(size: number, lives: readonly CellLife[]): CellHazards {
  const hazard = new Float64Array(size);
  const cost = costs(size, lives);
  // A cell that nobody is known to have survived takes everything: no life argues against it.
  const endless = [...cost.keys()].filter((k) => cost[k] === 0 && lives.some((life) => covers(life.failedIn, k)));
  const gains = lives.flatMap(({ count, failedIn }) =>
    failedIn === null || endless.some((k) => covers(failedIn, k))
      ? []
      : [{ count, from: failedIn[0], to: failedIn[1] }],
  );
  const total = lives.reduce((sum, life) => sum + life.count, 0);
  const problem: Problem = { size, cost, gains, lives: total };

  const covered = coverage(size, gains);
  for (let k = 0; k < size; k += 1)
    hazard[k] = (covered[k] ?? 0) > 0 ? (covered[k] ?? 0) / ((cost[k] ?? 0) + (covered[k] ?? 0)) : 0;

  let value = logLikelihood(problem, hazard);
  let gradient = derivative(problem, hazard);
  let iterations = 0;
  while (residual(problem, hazard, gradient) > 1e-11 && iterations < 200) {
    iterations += 1;
    const step = newtonStep(problem, hazard, gradient);
    const next = lineSearch(problem, hazard, gradient, step, value);
    if (next === null) break;
    hazard.set(next.hazard);
    value = next.value;
    gradient = derivative(problem, hazard);
  }
  let largest = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < size; k += 1) if ((cost[k] ?? 0) > 0) largest = Math.max(largest, (gradient[k] ?? 0) / total);
  const converged = residual(problem, hazard, gradient) <= 1e-9;
  const unfollowed = [...cost.keys()].some((k) => cost[k] === 0 && !endless.includes(k));
  const unique = !unfollowed && isUnique(problem, hazard, gradient);
  for (const k of endless) hazard[k] = Number.POSITIVE_INFINITY;
  return { hazard, iterations, largestGradient: 1 + (Number.isFinite(largest) ? largest : 0), converged, unique };
}

/**
 * Hazards could move without loss only on cells whose condition is tight, and only so that no failed range's sum
 * changes. With Y the running sum of such a move, every range asks Y(to) = Y(from): no move is left exactly where the
 * ranges connect all positions between the tight cells.
 */
function isUnique({ size, cost, gains, lives }: Problem, hazard: Float64Array, gradient: Float64Array): boolean {
  const position = new Int32Array(size + 1);
  let tight = 0;
  for (let k = 0; k < size; k += 1) {
    const moves = (cost[k] ?? 0) > 0 && ((hazard[k] ?? 0) > 0 || (gradient[k] ?? 0) > -1e-7 * lives);
    if (moves) tight += 1;
    position[k + 1] = tight;
  }
  const parent = Int32Array.from({ length: tight + 1 }, (_, at) => at);
  const rootOf = (at: number): number => {
    let root = at;
    while ((parent[root] ?? root) !== root) root = parent[root] ?? root;
    return root;
  };
  let parts = tight + 1;
  for (const { from, to } of gains) {
    const [one, other] = [rootOf(position[from] ?? 0), rootOf(position[to] ?? 0)];
    if (one === other) continue;
    parent[one] = other;
    parts -= 1;
  }
  return parts === 1;
}

function covers(range: readonly [number, number] | null, k: number): boolean {
  return range !== null && range[0] <= k && k < range[1];
}

function costs(size: number, lives: readonly CellLife[]): Float64Array {
  return coverage(
    size,
    lives.map(({ count, survived: [from, to] }) => ({ count, from, to })),
  );
}

/** Total count of the ranges that cover each cell. */
function coverage(
  size: number,
  ranges: readonly { readonly count: number; readonly from: number; readonly to: number }[],
): Float64Array {
  const change = new Float64Array(size + 1);
  for (const { count, from, to } of ranges) {
    change[from] = (change[from] ?? 0) + count;
    change[to] = (change[to] ?? 0) - count;
  }
  const total = new Float64Array(size);
  let running = 0;
  for (let k = 0; k < size; k += 1) {
    running += change[k] ?? 0;
    // Counts that are not whole leave rounding where they cancel.
    total[k] = Math.abs(running) < 1e-9 ? 0 : running;
  }
  return total;
}

/** Running sums: the sum over [from, to) is sums[to] - sums[from]. */
function runningSums(values: Float64Array): Float64Array {
  const sums = new Float64Array(values.length + 1);
  for (let k = 0; k < values.length; k += 1) sums[k + 1] = (sums[k] ?? 0) + (values[k] ?? 0);
  return sums;
}

function logLikelihood({ size, cost, gains }: Problem, hazard: Float64Array): number {
  const sums = runningSums(hazard);
  let value = 0;
  for (let k = 0; k < size; k += 1) value -= (cost[k] ?? 0) * (hazard[k] ?? 0);
  for (const { count, from, to } of gains) value += count * Math.log(-Math.expm1((sums[from] ?? 0) - (sums[to] ?? 0)));
  return value;
}

function derivative({ size, cost, gains }: Problem, hazard: Float64Array): Float64Array {
  const sums = runningSums(hazard);
  const change = new Float64Array(size + 1);
  for (const { count, from, to } of gains) {
    const slope = count / Math.expm1((sums[to] ?? 0) - (sums[from] ?? 0));
    change[from] = (change[from] ?? 0) + slope;
    change[to] = (change[to] ?? 0) - slope;
  }
  const gradient = new Float64Array(size);
  let running = 0;
  for (let k = 0; k < size; k += 1) {
    running += change[k] ?? 0;
    gradient[k] = running - (cost[k] ?? 0);
  }
  return gradient;
}

/** Largest violation of the Kuhn-Tucker conditions per life. A cell without cost is settled elsewhere. */
function residual({ size, cost, lives }: Problem, hazard: Float64Array, gradient: Float64Array): number {
  let worst = 0;
  for (let k = 0; k < size; k += 1) {
    if (cost[k] === 0) continue;
    const slope = gradient[k] ?? 0;
    worst = Math.max(worst, (hazard[k] ?? 0) > 0 ? Math.abs(slope) : slope);
  }
  return worst / lives;
}

/** Newton direction on the free cells; the others (at zero and wanting to go below) stay. */
function newtonStep({ size, cost, gains }: Problem, hazard: Float64Array, gradient: Float64Array): Float64Array {
  const free: number[] = [];
  for (let k = 0; k < size; k += 1) {
    if (cost[k] === 0) continue;
    if ((hazard[k] ?? 0) > 0 || (gradient[k] ?? 0) > 0) free.push(k);
  }
  const position = new Int32Array(size + 1);
  let seen = 0;
  for (let k = 0; k <= size; k += 1) {
    position[k] = seen;
    if (free[seen] === k) seen += 1;
  }
  const m = free.length;
  const sums = runningSums(hazard);
  // corner[a][b]: curvature of the lives whose free range is exactly [a, b]; summed, it gives the Hessian.
  const hessian = Array.from({ length: m }, () => new Float64Array(m));
  for (const { count, from, to } of gains) {
    const first = position[from] ?? 0;
    const last = (position[to] ?? 0) - 1;
    const row = hessian[first];
    if (last < first || row === undefined) continue;
    const x = (sums[to] ?? 0) - (sums[from] ?? 0);
    row[last] = (row[last] ?? 0) + (count * Math.exp(-x)) / Math.expm1(-x) ** 2;
  }
  for (let a = 0; a < m; a += 1) {
    const row = hessian[a];
    const above = hessian[a - 1];
    if (row === undefined) continue;
    for (let b = m - 1; b >= a; b -= 1) {
      const corner = (row[b] ?? 0) + (row[b + 1] ?? 0) + (above?.[b] ?? 0) - (above?.[b + 1] ?? 0);
      row[b] = corner;
    }
  }
  for (let a = 0; a < m; a += 1) for (let b = 0; b < a; b += 1) (hessian[a] ?? [])[b] = hessian[b]?.[a] ?? 0;
  const steepest = free.reduce((most, k) => Math.max(most, Math.abs(gradient[k] ?? 0)), 0);
  const usual = free.reduce((sum, k) => sum + (hazard[k] ?? 0), 0) / m;
  for (let a = 0; a < m; a += 1) {
    const row = hessian[a];
    if (row !== undefined) row[a] = (row[a] ?? 0) + steepest / Math.max(usual, 1e-9);
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
  problem: Problem,
  hazard: Float64Array,
  gradient: Float64Array,
  step: Float64Array,
  value: number,
): { readonly hazard: Float64Array; readonly value: number } | null {
  const before = residual(problem, hazard, gradient);
  for (let length = 1; length > 1e-12; length /= 2) {
    const next = hazard.map((x, k) => Math.max(0, x + length * (step[k] ?? 0)));
    const nextValue = logLikelihood(problem, next);
    if (!Number.isFinite(nextValue)) continue;
    const promised = next.reduce((sum, x, k) => sum + (gradient[k] ?? 0) * (x - (hazard[k] ?? 0)), 0);
    if (nextValue - value >= 1e-4 * promised && nextValue > value) return { hazard: next, value: nextValue };
    // Near the maximum the value no longer tells steps apart; the conditions themselves still do.
    const small = Math.abs(nextValue - value) <= 1e-12 * (1 + Math.abs(value));
    if (small && residual(problem, next, derivative(problem, next)) < before) return { hazard: next, value: nextValue };
  }
  return null;
}
