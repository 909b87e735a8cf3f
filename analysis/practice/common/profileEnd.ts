import { climbNewton, type Surface } from "../../estimation/climbNewton.ts";

/** A maximum with the inverse of its information. */
export interface Top {
  readonly at: readonly number[];
  readonly value: number;
  readonly inverse: Float64Array;
}

const REACH = 1e3;

/**
 * An end of a likelihood-ratio interval of one coordinate: where the surface, re-maximised over the others, has dropped by `drop`.
 *
 * @param side  1 for the upper end, -1 for the lower.
 * @returns     Null where the surface never drops so far on that side within a thousand standard errors.
 * Accuracy     Root of twice the drop to 1e-10; a surface with noise of its own asks for less, and for a climb that stops sooner.
 * Source       Venzon & Moolgavkar (1988), Applied Statistics 37, 87-94, for the definition; the search is Newton's method on
 *              the signed root of twice the drop, bracketed.
 */
export function profileEnd(
  surface: Surface,
  top: Top,
  coordinate: number,
  drop: number,
  side: 1 | -1,
  { accuracy = 1e-10, tolerance = 1e-15 }: { readonly accuracy?: number; readonly tolerance?: number } = {},
): number | null {
  const m = surface.dimension;
  const target = Math.sqrt(2 * drop);
  const estimate = top.at[coordinate]!;
  const variance = top.inverse[coordinate * m + coordinate]!;
  const error = Math.sqrt(variance);
  const fullGradient = new Float64Array(m);
  const fullHessian = new Float64Array(m * m);

  /** The others start where the quadratic through the top would have them. */
  let previous: { readonly u: number; readonly others: readonly number[] } = {
    u: estimate,
    others: top.at.filter((_, i) => i !== coordinate),
  };
  let tangent = top.at.flatMap((_, i) => (i === coordinate ? [] : [top.inverse[i * m + coordinate]! / variance]));
  const settle = (u: number): { readonly value: number; readonly slope: number } => {
    const held = holdCoordinate(surface, coordinate, u, fullGradient, fullHessian);
    const guess = previous.others.map((value, i) => value + tangent[i]! * (u - previous.u));
    const isPossible = Number.isFinite(held.evaluate(guess, new Float64Array(m - 1), new Float64Array((m - 1) ** 2)));
    const climbed = climbNewton(held, isPossible ? guess : previous.others, { tolerance, maxIterations: 80 });
    const moved = u - previous.u;
    if (moved !== 0) tangent = climbed.at.map((value, i) => (value - previous.others[i]!) / moved);
    previous = { u, others: climbed.at };
    surface.evaluate(insert(climbed.at, coordinate, u), fullGradient, fullHessian);
    return { value: climbed.value, slope: fullGradient[coordinate]! };
  };

  let u = estimate + side * target * error;
  let inside = estimate;
  let outside: number | null = null;
  for (let iteration = 0; iteration < 100; iteration++) {
    const { value, slope } = settle(u);
    const root = Math.sqrt(Math.max(0, 2 * (top.value - value)));
    const short = root - target;
    if (Math.abs(short) <= accuracy * target) return u;
    if (short > 0) outside = u;
    else inside = u;
    if (outside === null && Math.abs(u - estimate) >= REACH * target * error) return null;
    const rate = (-side * slope) / Math.max(root, 1e-300);
    const step = rate > 0 ? -short / rate : Number.POSITIVE_INFINITY;
    if (outside === null) {
      u += side * Math.min(step, 2 * Math.abs(u - estimate));
      continue;
    }
    const next = u + side * step;
    const isBetween = side * (next - inside) > 0 && side * (outside - next) > 0;
    if (Math.abs(outside - inside) <= 1e-13 * Math.max(error, Math.abs(outside))) return u;
    u = isBetween ? next : 0.5 * (inside + outside);
  }
  return u;
}

function insert(others: readonly number[], coordinate: number, u: number): number[] {
  return [...others.slice(0, coordinate), u, ...others.slice(coordinate)];
}

function holdCoordinate(
  surface: Surface,
  coordinate: number,
  u: number,
  fullGradient: Float64Array,
  fullHessian: Float64Array,
): Surface {
  const m = surface.dimension;
  const places = Array.from({ length: m }, (_, i) => i).filter((i) => i !== coordinate);
  return {
    dimension: m - 1,
    evaluate: (at, gradient, hessian) => {
      const value = surface.evaluate(insert(at, coordinate, u), fullGradient, fullHessian);
      places.forEach((i, a) => {
        gradient[a] = fullGradient[i]!;
        places.forEach((j, b) => {
          hessian[a * (m - 1) + b] = fullHessian[i * m + j]!;
        });
      });
      return value;
    },
    reach: (at, step) => {
      const full = new Float64Array(m);
      places.forEach((i, a) => {
        full[i] = step[a]!;
      });
      return surface.reach(insert(at, coordinate, u), full);
    },
  };
}
