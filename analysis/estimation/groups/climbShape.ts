import type { ShapeProfile } from "./shapeProfile.ts";

export interface CommonShape {
  readonly shape: number;
  readonly logLikelihood: number;
  /** Minus the second derivative of the summed profile by log shape: 1 over the variance of log shape. */
  readonly information: number;
}

/**
 * The shape at which summed profiles are highest.
 *
 * @param start  A shape to start from.
 * @returns      Null where there is no maximum between 1/1000 and 1000 (a shape not bounded, or nothing failed).
 * Accuracy      Newton's method, stopped where a step of log shape is below 1e-11.
 */
export function climbShape(profiles: readonly ShapeProfile[], start: number): CommonShape | null {
  const sumAt = (u: number) => {
    let value = 0;
    let slope = 0;
    let bend = 0;
    for (const profile of profiles) {
      const at = profile(u);
      value += at.value;
      slope += at.slope;
      bend += at.bend;
    }
    return { value, slope, bend };
  };
  const farthest = Math.log(1000);
  let u = Math.log(start);
  let at = sumAt(u);
  for (let iteration = 0; iteration < 200; iteration++) {
    let step = at.bend < 0 ? -at.slope / at.bend : Math.sign(at.slope) * 0.5;
    step = Math.max(-1, Math.min(1, step));
    let next = sumAt(u + step);
    while (!(next.value >= at.value - 1e-12 * Math.abs(at.value)) && Math.abs(step) > 1e-13) {
      step *= 0.5;
      next = sumAt(u + step);
    }
    u += step;
    at = next;
    if (!(Math.abs(u) < farthest)) return null;
    if (Math.abs(step) < 1e-11) {
      return at.bend < 0 ? { shape: Math.exp(u), logLikelihood: at.value, information: -at.bend } : null;
    }
  }
  return null;
}
