import { CholeskyDecomposition, Matrix } from "ml-matrix";

/** A top of a function of several unknowns, or null where the climb did not settle. */
export interface Top {
  readonly at: readonly number[];
  readonly value: number;
}

const NUDGE = 1e-4;

/**
 * Newton's method with derivatives by central differences, for likelihoods of a sensitivity that have no derivatives written out.
 *
 * @param f      Smooth near its top, all unknowns of order 1 (logarithms); -Infinity or NaN where impossible.
 * @returns      Null where it runs away (an unknown moves by more than 20) or does not settle in 100 steps.
 * Accuracy      About 1e-6 of the unknowns.
 */
export function climbNumerically(f: (x: readonly number[]) => number, start: readonly number[]): Top | null {
  let x = [...start];
  let value = f(x);
  if (!Number.isFinite(value)) return null;
  for (let iteration = 0; iteration < 100; iteration++) {
    const { gradient, curvature } = derivatives(f, x, value);
    const { step, isNewton } = newtonStep(gradient, curvature);
    const longest = Math.max(...step.map(Math.abs), 1e-300);
    let size = Math.min(1, 1 / longest);
    const moved = (): number[] => x.map((xi, i) => xi + size * step[i]!);
    let next = f(moved());
    while (!(next >= value) && size * longest > 1e-9) {
      size *= 0.5;
      next = f(moved());
    }
    // Rounding of the differences hides what is left to climb.
    if (!(next >= value)) return isNewton && longest < 1e-4 ? { at: x, value } : null;
    const travelled = size * longest;
    x = moved();
    value = next;
    if (x.some((xi, i) => Math.abs(xi - start[i]!) > 20)) return null;
    if (travelled < 1e-8 && isNewton) return { at: x, value };
  }
  return null;
}

function derivatives(f: (x: readonly number[]) => number, x: readonly number[], value: number) {
  const at = (...nudges: readonly (readonly [number, number])[]): number => {
    const moved = [...x];
    for (const [i, by] of nudges) moved[i]! += by;
    return f(moved);
  };
  const high = x.map((_, i) => at([i, NUDGE]));
  const low = x.map((_, i) => at([i, -NUDGE]));
  const gradient = x.map((_, i) => (high[i]! - low[i]!) / (2 * NUDGE));
  const curvature = x.map(() => x.map(() => 0));
  for (let i = 0; i < x.length; i++) {
    curvature[i]![i] = (high[i]! - 2 * value + low[i]!) / NUDGE ** 2;
    for (let j = 0; j < i; j++) {
      const mixed =
        at([i, NUDGE], [j, NUDGE]) -
        at([i, NUDGE], [j, -NUDGE]) -
        at([i, -NUDGE], [j, NUDGE]) +
        at([i, -NUDGE], [j, -NUDGE]);
      curvature[i]![j] = mixed / (4 * NUDGE ** 2);
      curvature[j]![i] = curvature[i]![j]!;
    }
  }
  return { gradient, curvature };
}

function newtonStep(gradient: readonly number[], curvature: readonly number[][]) {
  const information = new Matrix(curvature.map((row) => row.map((one) => -one)));
  const size = Math.max(1e-6, ...information.diagonal().map(Math.abs));
  for (let ridge = 0; ridge < 1e12 * size; ridge = ridge === 0 ? 1e-5 * size : ridge * 10) {
    const factors = new CholeskyDecomposition(Matrix.add(information, Matrix.eye(gradient.length).mul(ridge)));
    if (factors.isPositiveDefinite()) {
      return { step: factors.solve(Matrix.columnVector([...gradient])).to1DArray(), isNewton: ridge === 0 };
    }
  }
  return { step: gradient.map(() => 0), isNewton: false };
}
