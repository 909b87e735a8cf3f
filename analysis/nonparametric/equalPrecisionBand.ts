import { AnalysisError } from "../errors.ts";
import { findRoot, normalDensity } from "../numerics/index.ts";
import type { ProductLimitCurve } from "./productLimit.ts";
import { survivalBounds } from "./survivalBounds.ts";

export interface EqualPrecisionBand {
  readonly confidence: number;
  readonly method: "equal precision, log-log";
  /** Widens the pointwise bounds, which have the normal quantile in its place. */
  readonly critical: number;
  /** Ages between which the curve as a whole is held. */
  readonly fromAge: number;
  readonly toAge: number;
  /** One a step of the curve; null where nothing survives. */
  readonly steps: readonly ({ readonly lower: number; readonly upper: number } | null)[];
}

/**
 * Simultaneous band of a product-limit curve: with the given confidence the whole survival function lies within it from the first failure
 * to the last, not each age by itself. Equal precision: at each age it is a pointwise log-log interval with a larger critical value.
 *
 * @returns     Null for fewer than two steps with survivors: there is no stretch to hold.
 * Errors       "bad-setting" for a confidence outside (0, 1).
 * Accuracy     Critical value to about 1e-3, over hardly any length to 1e-2; the band holds for many failures, as its theory is of large samples.
 * Source       Nair (1984), Technometrics 26, 265-275; Klein & Moeschberger (2003), Survival Analysis, section 4.4.
 */
export function equalPrecisionBand(curve: ProductLimitCurve, confidence: number): EqualPrecisionBand | null {
  const errors = curve.steps.map(({ standardError, survival }) =>
    standardError === null || !(survival > 0) ? null : standardError / survival,
  );
  const known = curve.steps.filter((_, i) => (errors[i] ?? 0) > 0);
  const [first, last] = [known[0], known.at(-1)];
  if (!first || !last || first === last) return null;
  const relative = (step: { readonly standardError: number | null; readonly survival: number }): number =>
    (step.standardError ?? 0) / step.survival;
  const length = 2 * Math.log(relative(last) / relative(first));
  const critical = equalPrecisionCritical(length, confidence);
  return {
    confidence,
    method: "equal precision, log-log",
    critical,
    fromAge: first.time,
    toAge: last.time,
    steps: curve.steps.map(({ survival }, i) => {
      const error = errors[i] ?? null;
      if (error === null) return null;
      const [lower, upper] = survivalBounds(survival, error, critical, "log-log");
      return { lower, upper };
    }),
  };
}

/**
 * The c with P(sup |B(u)| / sqrt(u (1 - u)) <= c) = confidence for a Brownian bridge B over a <= u <= b. In L = log(u / (1 - u)) the ratio
 * is a stationary Ornstein-Uhlenbeck process, so only the length L(b) - L(a) counts.
 *
 * @param length  L(b) - L(a) >= 0; for a survival curve the logarithm of the ratio of the variances of log S at both ends.
 */
export function equalPrecisionCritical(length: number, confidence: number): number {
  if (!(confidence > 0 && confidence < 1))
    throw new AnalysisError("bad-setting", { setting: "confidence", value: confidence });
  return findRoot((c) => staysWithin(c, length) - confidence, 0.01, 9, { tolerance: 1e-4 });
}

const CELLS = 80;
/** First steps are implicit, so that the jump at the walls dies out; the others are Crank-Nicolson. */
const IMPLICIT = 8;

/**
 * P(|U| <= c over the length) for dU = -U/2 dL + dW started from its stationary law, N(0, 1): the backward equation
 * p_L = p''/2 - x p'/2 with p = 0 at the walls, by finite differences on half of the interval (p is even in x).
 */
function staysWithin(c: number, length: number): number {
  const h = c / CELLS;
  const p = new Float64Array(CELLS + 1).fill(1);
  p[CELLS] = 0;
  const below = new Float64Array(CELLS);
  const above = new Float64Array(CELLS);
  for (let i = 0; i < CELLS; i++) {
    const drift = 0.25 * i;
    below[i] = 0.5 / (h * h) + drift;
    above[i] = 0.5 / (h * h) - drift;
  }
  const steps = Math.max(40, Math.ceil(40 * length));
  const step = length / steps;
  for (let k = 0; k < steps; k++) advance(p, below, above, step, k < IMPLICIT ? 1 : 0.5);
  // Simpson over the half, doubled.
  let sum = 0;
  for (let i = 0; i <= CELLS; i++) {
    sum += (i === 0 || i === CELLS ? 1 : i % 2 === 1 ? 4 : 2) * normalDensity(i * h) * p[i]!;
  }
  return (2 * h * sum) / 3;
}

/** One step of the scheme, `share` of it implicit; the tridiagonal system is solved by elimination. */
function advance(p: Float64Array, below: Float64Array, above: Float64Array, step: number, share: number): void {
  const last = below.length - 1;
  const right = new Float64Array(below.length);
  const up = new Float64Array(below.length);
  const value = new Float64Array(below.length);
  for (let i = 0; i <= last; i++) {
    // At 0 the two neighbours are alike.
    const left = i === 0 ? p[1]! : p[i - 1]!;
    const motion = below[i]! * (left - p[i]!) + above[i]! * (p[i + 1]! - p[i]!);
    right[i] = p[i]! + (1 - share) * step * motion;
  }
  for (let i = 0; i <= last; i++) {
    const lower = i === 0 ? 0 : -share * step * below[i]!;
    const upper = -share * step * (i === 0 ? below[0]! + above[0]! : above[i]!);
    const diagonal = 1 + share * step * (below[i]! + above[i]!) - (i === 0 ? 0 : lower * up[i - 1]!);
    up[i] = upper / diagonal;
    value[i] = (right[i]! - (i === 0 ? 0 : lower * value[i - 1]!)) / diagonal;
  }
  p[last] = value[last]!;
  for (let i = last - 1; i >= 0; i--) p[i] = value[i]! - up[i]! * p[i + 1]!;
}
