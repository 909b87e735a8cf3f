import { AnalysisError } from "../errors.ts";

export interface RootOptions {
  /** Values at the ends, where the caller has them already. */
  readonly atLow?: number;
  readonly atHigh?: number;
  /** The root is found to within this distance plus four rounding errors. */
  readonly tolerance?: number;
  readonly maxIterations?: number;
}

/**
 * Root of a continuous function between two points where it has opposite signs.
 *
 * @param f     Finite on [low, high]; f(low) and f(high) of opposite sign, or zero.
 * @returns     The root; the best point after `maxIterations` if the tolerance was not met.
 * Errors       "bad-setting" where the ends do not bracket a root.
 * Source       Brent (1973), Algorithms for Minimization without Derivatives, ch. 4.
 */
export function findRoot(f: (x: number) => number, low: number, high: number, options: RootOptions = {}): number {
  const { tolerance = 0, maxIterations = 200 } = options;
  let a = low;
  let b = high;
  let fa = options.atLow ?? f(a);
  let fb = options.atHigh ?? f(b);
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (!(fa * fb < 0)) throw new AnalysisError("bad-setting", { setting: "bracket", low, high, atLow: fa, atHigh: fb });
  let c = a;
  let fc = fa;
  let step = b - a;
  let previous = step;
  for (let iteration = 0; iteration < maxIterations; iteration++) {
    if (Math.abs(fc) < Math.abs(fb)) {
      a = b;
      b = c;
      c = a;
      fa = fb;
      fb = fc;
      fc = fa;
    }
    const least = 2 * Number.EPSILON * Math.abs(b) + 0.5 * tolerance;
    const middle = 0.5 * (c - b);
    if (Math.abs(middle) <= least || fb === 0) return b;
    if (Math.abs(previous) < least || Math.abs(fa) <= Math.abs(fb)) {
      step = middle;
      previous = middle;
    } else {
      const s = fb / fa;
      let p: number;
      let q: number;
      if (a === c) {
        p = 2 * middle * s;
        q = 1 - s;
      } else {
        const t = fa / fc;
        const r = fb / fc;
        p = s * (2 * middle * t * (t - r) - (b - a) * (r - 1));
        q = (t - 1) * (r - 1) * (s - 1);
      }
      if (p > 0) q = -q;
      else p = -p;
      if (2 * p < Math.min(3 * middle * q - Math.abs(least * q), Math.abs(previous * q))) {
        previous = step;
        step = p / q;
      } else {
        step = middle;
        previous = middle;
      }
    }
    a = b;
    fa = fb;
    b += Math.abs(step) > least ? step : middle > 0 ? least : -least;
    fb = f(b);
    if (fb > 0 === fc > 0) {
      c = a;
      fc = fa;
      step = b - a;
      previous = step;
    }
  }
  return b;
}
