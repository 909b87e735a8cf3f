/** A smooth function of m variables with its derivatives. */
export interface Surface {
  readonly dimension: number;
  /** Returns the value, -Infinity where it cannot be computed; writes the gradient and the m x m second derivatives. */
  evaluate(at: readonly number[], gradient: Float64Array, hessian: Float64Array): number;
  /** Largest share of a step that may be taken, in (0, 1]. */
  reach(at: readonly number[], step: Float64Array): number;
  /** The climb is stopped where this holds: it has run into an edge. */
  isAtEdge?(at: readonly number[]): boolean;
}

export interface Climbed {
  readonly at: readonly number[];
  readonly value: number;
  readonly gradient: Float64Array;
  readonly hessian: Float64Array;
  readonly iterations: number;
  /** A point where the score is zero and the surface curves down in every direction. */
  readonly converged: boolean;
}

/**
 * Newton's method uphill, safeguarded: a ridge on the diagonal where the surface is not concave, steps halved until they climb.
 *
 * @param tolerance  Stops when twice the gain that the next step promises falls below it.
 */
export function climbNewton(
  surface: Surface,
  start: readonly number[],
  { tolerance = 1e-17, maxIterations = 200 }: { readonly tolerance?: number; readonly maxIterations?: number } = {},
): Climbed {
  const m = surface.dimension;
  let gradient = new Float64Array(m);
  let hessian = new Float64Array(m * m);
  let nextGradient = new Float64Array(m);
  let nextHessian = new Float64Array(m * m);
  let at: readonly number[] = start;
  let value = surface.evaluate(at, gradient, hessian);
  const answer = (iterations: number, converged: boolean): Climbed => ({
    at,
    value,
    gradient,
    hessian,
    iterations,
    converged,
  });
  if (m === 0) return answer(0, true);
  if (!Number.isFinite(value)) return answer(0, false);
  for (let iteration = 1; iteration <= maxIterations; iteration++) {
    const { step, isNewton } = ascentStep(gradient, hessian, m);
    let decrement = 0;
    for (let i = 0; i < m; i++) decrement += gradient[i]! * step[i]!;
    let size = surface.reach(at, step);
    let climbed = false;
    let next = at;
    let nextValue = value;
    for (let halving = 0; halving < 60; halving++) {
      next = at.map((x, i) => x + size * step[i]!);
      nextValue = surface.evaluate(next, nextGradient, nextHessian);
      // Near the top the value is flat in doubles; there the last Newton step is taken for its smaller score.
      const slack = decrement < 1e-7 ? 1e-12 * Math.abs(value) : 0;
      climbed = Number.isFinite(nextValue) && nextValue >= value - slack;
      if (climbed) break;
      size *= 0.5;
    }
    if (!climbed) return answer(iteration, decrement < 1e-7 && isNewton);
    at = next;
    value = nextValue;
    [gradient, nextGradient] = [nextGradient, gradient];
    [hessian, nextHessian] = [nextHessian, hessian];
    if (surface.isAtEdge?.(at)) return answer(iteration, false);
    if (isNewton && decrement <= tolerance) return answer(iteration, true);
  }
  return answer(maxIterations, false);
}

/** Solves (-hessian + ridge) step = gradient with the least ridge that makes it a way up. */
function ascentStep(
  gradient: Float64Array,
  hessian: Float64Array,
  m: number,
): { step: Float64Array; isNewton: boolean } {
  let ridge = 0;
  const curved = new Float64Array(m * m);
  for (let attempt = 0; attempt < 60; attempt++) {
    for (let i = 0; i < m; i++) {
      for (let j = 0; j < m; j++) curved[i * m + j] = -hessian[i * m + j]!;
      // On the scale of each variable, so that its unit does not matter.
      curved[i * m + i] =
        curved[i * m + i]! + ridge * (Math.abs(hessian[i * m + i]!) + Math.abs(gradient[i]!) * 1e-3 + 1e-300);
    }
    const step = solvePositive(curved, gradient, m);
    if (step) return { step, isNewton: ridge === 0 };
    ridge = ridge === 0 ? 1e-3 : 3 * ridge;
  }
  return { step: new Float64Array(m), isNewton: false };
}

/** Cholesky's method; null where the matrix is not positive definite. */
export function solvePositive(matrix: Float64Array, right: Float64Array, m: number): Float64Array | null {
  const factor = new Float64Array(m * m);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * m + j]!;
      for (let k = 0; k < j; k++) sum -= factor[i * m + k]! * factor[j * m + k]!;
      if (i === j) {
        if (!(sum > 1e-13 * Math.abs(matrix[i * m + i]!))) return null;
        factor[i * m + i] = Math.sqrt(sum);
      } else factor[i * m + j] = sum / factor[j * m + j]!;
    }
  }
  const answer = Float64Array.from(right);
  for (let i = 0; i < m; i++) {
    for (let k = 0; k < i; k++) answer[i] = answer[i]! - factor[i * m + k]! * answer[k]!;
    answer[i] = answer[i]! / factor[i * m + i]!;
  }
  for (let i = m - 1; i >= 0; i--) {
    for (let k = i + 1; k < m; k++) answer[i] = answer[i]! - factor[k * m + i]! * answer[k]!;
    answer[i] = answer[i]! / factor[i * m + i]!;
  }
  return answer;
}
