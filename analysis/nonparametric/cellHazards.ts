import { coverage, type HazardProblem } from "./hazardLikelihood.ts";
import type { CellLife } from "./innermostIntervals.ts";
import { type HazardMaximum, projectedNewton } from "./projectedNewton.ts";

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

/**
 * Maximum-likelihood hazards of the cells. With x_k the cumulative hazard of cell k, a life contributes
 *   - sum of x over the cells it survived + log(1 - exp(- sum of x over the cells it failed in)),
 * which is concave in x >= 0, late entry or not: the Kuhn-Tucker conditions are sufficient.
 *
 * @param size  Number of cells.
 * Accuracy     As `projectedNewton`; `converged` where the conditions hold within 1e-9 per life.
 * Source       Kuhn-Tucker certificate: Gentleman & Geyer (1994), Biometrika 81, 618-623.
 */
export function cellHazards(size: number, lives: readonly CellLife[]): CellHazards {
  const cost = coverage(
    size,
    lives.map(({ count, survived: [from, to] }) => ({ count, from, to })),
  );
  // A cell that nobody is known to have survived takes everything: no life argues against it.
  const endless = [...cost.keys()].filter((k) => cost[k] === 0 && lives.some((life) => covers(life.failedIn, k)));
  const gains = lives.flatMap(({ count, failedIn }) =>
    failedIn === null || endless.some((k) => covers(failedIn, k))
      ? []
      : [{ count, from: failedIn[0], to: failedIn[1] }],
  );
  const total = lives.reduce((sum, life) => sum + life.count, 0);
  const problem: HazardProblem = { size, cost, gains, lives: total };

  const covered = coverage(size, gains);
  const start = covered.map((gain, k) => (gain > 0 ? gain / ((cost[k] ?? 0) + gain) : 0));

  const { hazard, gradient, iterations, residual } = polished(problem, projectedNewton(problem, start));
  let largest = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < size; k += 1) if ((cost[k] ?? 0) > 0) largest = Math.max(largest, (gradient[k] ?? 0) / total);
  const unfollowed = [...cost.keys()].some((k) => cost[k] === 0 && !endless.includes(k));
  const unique = !unfollowed && isUnique(problem, hazard, gradient);
  for (const k of endless) hazard[k] = Number.POSITIVE_INFINITY;
  return {
    hazard,
    iterations,
    largestGradient: 1 + (Number.isFinite(largest) ? largest : 0),
    converged: residual <= 1e-9,
    unique,
  };
}

/**
 * Where a cell's condition is tight at 0 its hazard creeps towards 0 and would leave a trace of mass: such traces are
 * set to 0 and the climb is finished from there, if the conditions then hold as well.
 */
function polished(problem: HazardProblem, found: HazardMaximum): HazardMaximum {
  const trace = 1e-5;
  if (!found.hazard.some((x) => x > 0 && x < trace)) return found;
  const again = projectedNewton(
    problem,
    found.hazard.map((x) => (x < trace ? 0 : x)),
  );
  const iterations = found.iterations + again.iterations;
  return { ...(again.residual <= Math.max(found.residual, 1e-11) ? again : found), iterations };
}

/**
 * Hazards could move without loss only on cells whose condition is tight, and only so that no failed range's sum
 * changes. With Y the running sum of such a move, every range asks Y(to) = Y(from): no move is left exactly where the
 * ranges connect all positions between the tight cells.
 */
function isUnique({ size, cost, gains, lives }: HazardProblem, hazard: Float64Array, gradient: Float64Array): boolean {
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
