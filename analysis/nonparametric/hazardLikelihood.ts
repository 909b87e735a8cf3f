/** Log-likelihood of cell hazards and its derivatives: sums over ranges of neighbouring cells. */
export interface HazardProblem {
  readonly size: number;
  /** Count of lives that survived each cell. */
  readonly cost: Float64Array;
  /** Count of all lives. */
  readonly lives: number;
  /** Lives that failed somewhere in [from, to). */
  readonly gains: readonly { readonly count: number; readonly from: number; readonly to: number }[];
}

/** Total count of the ranges that cover each cell. */
export function coverage(
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

export function logLikelihood({ size, cost, gains }: HazardProblem, hazard: Float64Array): number {
  const sums = runningSums(hazard);
  let value = 0;
  for (let k = 0; k < size; k += 1) value -= (cost[k] ?? 0) * (hazard[k] ?? 0);
  for (const { count, from, to } of gains) value += count * Math.log(-Math.expm1((sums[from] ?? 0) - (sums[to] ?? 0)));
  return value;
}

export function derivative({ size, cost, gains }: HazardProblem, hazard: Float64Array): Float64Array {
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

/** Minus the second derivatives among the cells in `free` (ascending), rows of a full symmetric matrix. */
export function curvature(
  { size, gains }: HazardProblem,
  hazard: Float64Array,
  free: readonly number[],
): Float64Array[] {
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
  return hessian;
}

/** Running sums: the sum over [from, to) is sums[to] - sums[from]. */
function runningSums(values: Float64Array): Float64Array {
  const sums = new Float64Array(values.length + 1);
  for (let k = 0; k < values.length; k += 1) sums[k + 1] = (sums[k] ?? 0) + (values[k] ?? 0);
  return sums;
}
