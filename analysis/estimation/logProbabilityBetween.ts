import type { Theta } from "../distributions/lawFamilies.ts";
import { type LawPoint, SECOND, TEN } from "../distributions/lawPoint.ts";
import { gaussLegendre } from "../numerics/index.ts";

/** Where the tail falls by less than this factor (in logarithms) across an interval, the density is integrated instead. */
const NARROW = 0.15;
/** The second derivative at place `at` is by the coordinates whose first derivatives stand at ONE[at] and OTHER[at]. */
const FIRST_SECOND = 4;
const ONE = new Uint8Array(TEN);
const OTHER = new Uint8Array(TEN);
for (const [i, row] of SECOND.entries()) {
  for (const [j, at] of row.entries()) {
    ONE[at] = 1 + Math.min(i, j);
    OTHER[at] = 1 + Math.max(i, j);
  }
}
/** exp(-FAR) is nothing beside 1. */
const FAR = 700;
/** Standardised widths below which, and distances from the middle within which, the density is integrated at once. */
const SHORT = 0.3;
const BODY = 6;

/**
 * A function that writes log P(a < T <= b) with its derivatives by theta (layout of `LawPoint`).
 *
 * An age a that is 0 bounds nothing; b may be Infinity. A wide interval is a difference of the tail on its side, a narrow one
 * the integral of the density, so neither loses digits.
 */
export function logProbabilityBetween(
  point: LawPoint,
): (a: number, b: number, theta: Theta, out: Float64Array) => void {
  const near = new Float64Array(TEN);
  const far = new Float64Array(TEN);
  const sum = logSum();

  return (a, b, theta, out) => {
    const from = a > 0 ? point.standardised(a, theta) : Number.NEGATIVE_INFINITY;
    if (from === Number.NEGATIVE_INFINITY) {
      if (b < Number.POSITIVE_INFINITY) return point.logFailed(b, theta, out);
      out.fill(0, 0, TEN);
      return;
    }
    if (b === Number.POSITIVE_INFINITY) return point.logSurvival(a, theta, out);
    const to = point.standardised(b, theta);
    const { middle, lengths } = point.extent(theta);
    const length = lengths[0]!;
    const width = (to - from) / length;
    // A short piece of the body is narrow without asking the tails.
    if (!(width < SHORT && Math.abs(from - middle) < BODY * length)) {
      if (from + to > 2 * middle) {
        point.logSurvival(a, theta, near);
        point.logSurvival(b, theta, far);
      } else {
        point.logFailed(b, theta, near);
        point.logFailed(a, theta, far);
      }
      const drop = near[0]! - far[0]!;
      if (drop > NARROW) return subtract(near, far, drop, out);
      // NaN: both tails have underflowed.
      if (!(drop >= 0)) {
        out.fill(0, 0, TEN);
        out[0] = Number.NEGATIVE_INFINITY;
        return;
      }
    }
    const panels = Math.max(1, Math.min(60, Math.ceil(width / 1.5)));
    // The error of n points is of the order (width / 4)^(2n) / (2n)!, below 1e-13 for each of these.
    const { nodes, weights } = gaussLegendre(width < 0.1 ? 4 : width < 0.5 ? 7 : 14);
    const span = point.span(a, b, theta) / panels;
    sum.clear();
    for (let panel = 0; panel < panels; panel++) {
      for (let i = 0; i < nodes.length; i++) {
        const age = point.along(a, span, panel + nodes[i]!, theta);
        point.logDensity(age, theta, near);
        near[0] = near[0]! + Math.log(weights[i]! * span * point.ageByY(age, theta));
        sum.add(near);
      }
    }
    sum.write(out);
  };
}

/** log(A - B) from log A and log B with their derivatives. */
function subtract(a: Float64Array, b: Float64Array, drop: number, out: Float64Array): void {
  if (drop > FAR) {
    out.set(a);
    return;
  }
  // B / (A - B)
  const ratio = 1 / Math.expm1(drop);
  out[0] = a[0]! + Math.log(-Math.expm1(-drop));
  const more = 1 + ratio;
  for (let i = 1; i < 4; i++) out[i] = more * a[i]! - ratio * b[i]!;
  for (let at = FIRST_SECOND; at < TEN; at++) {
    const i = ONE[at]!;
    const j = OTHER[at]!;
    out[at] = more * (a[at]! + a[i]! * a[j]!) - ratio * (b[at]! + b[i]! * b[j]!) - out[i]! * out[j]!;
  }
}

export interface LogSum {
  clear(): void;
  /** Adds exp(term) to the sum; the term is a logarithm with its derivatives. */
  add(term: Float64Array): void;
  /** Writes the logarithm of the sum with its derivatives. */
  write(out: Float64Array): void;
}

/** Sums of positive terms given by their logarithms, with derivatives, free of overflow. */
export function logSum(): LogSum {
  const moments = new Float64Array(TEN);
  let largest = Number.NEGATIVE_INFINITY;
  return {
    clear: () => {
      moments.fill(0);
      largest = Number.NEGATIVE_INFINITY;
    },
    add: (term) => {
      const value = term[0]!;
      if (value === Number.NEGATIVE_INFINITY) return;
      if (value > largest) {
        const factor = Math.exp(largest - value);
        for (let k = 0; k < TEN; k++) moments[k] = moments[k]! * factor;
        largest = value;
      }
      const mass = Math.exp(value - largest);
      if (mass === 0) return;
      moments[0] = moments[0]! + mass;
      for (let i = 1; i < 4; i++) moments[i] = moments[i]! + mass * term[i]!;
      for (let at = FIRST_SECOND; at < TEN; at++)
        moments[at] = moments[at]! + mass * (term[at]! + term[ONE[at]!]! * term[OTHER[at]!]!);
    },
    write: (out) => {
      const total = moments[0]!;
      if (total === 0) {
        out.fill(0, 0, TEN);
        out[0] = Number.isNaN(total) ? total : Number.NEGATIVE_INFINITY;
        return;
      }
      out[0] = largest + Math.log(total);
      for (let i = 1; i < 4; i++) out[i] = moments[i]! / total;
      for (let at = FIRST_SECOND; at < TEN; at++) out[at] = moments[at]! / total - out[ONE[at]!]! * out[OTHER[at]!]!;
    },
  };
}
