/** The beta function, the regularized incomplete beta function and its inverse. */
import { deviance } from "./deviance.ts";
import { logGamma, stirlingCorrection } from "./gammaFunction.ts";
import { type LogTails, logComplement } from "./incompleteGamma.ts";

/** log B(a, b) = log [Gamma(a) Gamma(b) / Gamma(a + b)], a, b > 0. Accuracy: relative 1e-13. */
export function logBeta(a: number, b: number): number {
  const small = Math.min(a, b);
  const large = Math.max(a, b);
  const sum = small + large;
  if (small >= 10) {
    const correction = stirlingCorrection(small) + stirlingCorrection(large) - stirlingCorrection(sum);
    return (
      0.5 * Math.log((2 * Math.PI) / large) +
      correction +
      (small - 0.5) * Math.log(small / sum) +
      large * Math.log1p(-small / sum)
    );
  }
  if (large >= 10) {
    const correction = stirlingCorrection(large) - stirlingCorrection(sum);
    return logGamma(small) + correction + small - small * Math.log(sum) + (large - 0.5) * Math.log1p(-small / sum);
  }
  return logGamma(small) + (logGamma(large) - logGamma(sum));
}

/** B(a, b), a, b > 0. Accuracy: relative 1e-13. */
export function beta(a: number, b: number): number {
  return Math.exp(logBeta(a, b));
}

/** A point of (0, 1) with its complement and both logarithms, so that neither end loses digits. */
interface Point {
  readonly x: number;
  readonly y: number;
  readonly logX: number;
  readonly logY: number;
}

function pointAt(x: number): Point {
  return { x, y: 1 - x, logX: Math.log(x), logY: Math.log1p(-x) };
}

/** The point whose log odds log(x / (1 - x)) are `u`. */
function pointAtLogOdds(u: number): Point {
  const logX = u < 0 ? u - Math.log1p(Math.exp(u)) : -Math.log1p(Math.exp(-u));
  const logY = u < 0 ? -Math.log1p(Math.exp(u)) : -u - Math.log1p(Math.exp(-u));
  return { x: Math.exp(logX), y: Math.exp(logY), logX, logY };
}

/** log of x^a y^b / B(a, b). */
function logDensity(a: number, b: number, point: Point): number {
  if (Math.min(a, b) < 10) return a * point.logX + b * point.logY - logBeta(a, b);
  const sum = a + b;
  const correction = stirlingCorrection(a) + stirlingCorrection(b) - stirlingCorrection(sum);
  const first = a * deviance((point.x * sum - a) / a, point.logX + Math.log(sum / a));
  const second = b * deviance((point.y * sum - b) / b, point.logY + Math.log(sum / b));
  return 0.5 * Math.log((a / sum) * (b / (2 * Math.PI))) - correction - first - second;
}

/** Continued fraction of I_x(a, b) a B(a, b) / (x^a y^b), converging fast for x < (a + 1) / (a + b + 2). DLMF 8.17.22. */
function fraction(a: number, b: number, x: number): number {
  let c = 1;
  let d = 1 / nonZero(1 - ((a + b) * x) / (a + 1));
  let value = d;
  for (let m = 1; m < 1_000_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / nonZero(1 + even * d);
    c = nonZero(1 + even / c);
    value *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / nonZero(1 + odd * d);
    c = nonZero(1 + odd / c);
    const change = d * c;
    value *= change;
    if (Math.abs(change - 1) <= 2e-16) break;
  }
  return value;
}

function nonZero(value: number): number {
  return Math.abs(value) < 1e-300 ? 1e-300 : value;
}

function logTailsAt(a: number, b: number, point: Point): LogTails {
  if (point.logX === Number.NEGATIVE_INFINITY) return { logLower: Number.NEGATIVE_INFINITY, logUpper: 0 };
  if (point.logY === Number.NEGATIVE_INFINITY) return { logLower: 0, logUpper: Number.NEGATIVE_INFINITY };
  const lead = logDensity(a, b, point);
  if (point.x < (a + 1) / (a + b + 2)) {
    const logLower = Math.min(0, lead - Math.log(a) + Math.log(fraction(a, b, point.x)));
    return { logLower, logUpper: logComplement(logLower) };
  }
  const logUpper = Math.min(0, lead - Math.log(b) + Math.log(fraction(b, a, point.y)));
  return { logLower: logComplement(logUpper), logUpper };
}

/** Logarithms of I_x(a, b) and 1 - I_x(a, b). a, b > 0, 0 <= x <= 1. */
export function betaLogTails(a: number, b: number, x: number): LogTails {
  if (!(a > 0 && b > 0 && x >= 0 && x <= 1)) return { logLower: Number.NaN, logUpper: Number.NaN };
  return logTailsAt(a, b, pointAt(x));
}

/** The same at given log odds log(x / (1 - x)), for x nearer to 1 than a double can hold. */
export function betaLogTailsAtLogOdds(a: number, b: number, logOdds: number): LogTails {
  return logTailsAt(a, b, pointAtLogOdds(logOdds));
}

/** I_x(a, b), the beta distribution function. a, b > 0, 0 <= x <= 1. Accuracy: relative 1e-12 for a, b <= 400. */
export function regularizedBeta(a: number, b: number, x: number): number {
  return Math.exp(betaLogTails(a, b, x).logLower);
}

/**
 * Log odds of the x with I_x(a, b) = p, where q = 1 - p is given beside p to keep digits at both ends.
 * log I is concave in the log odds u and I <= exp(a u) / (a B), so Newton from that bound never passes the root.
 */
export function inverseBetaLogOdds(a: number, b: number, p: number, q: number): number {
  if (p <= 0) return Number.NEGATIVE_INFINITY;
  if (q <= 0) return Number.POSITIVE_INFINITY;
  if (p > q) return -inverseBetaLogOdds(b, a, q, p);
  const logP = Math.log(p);
  let u = (logP + Math.log(a) + logBeta(a, b)) / a;
  for (let step = 0; step < 300; step++) {
    const point = pointAtLogOdds(u);
    const { logLower } = logTailsAt(a, b, point);
    const change = (logP - logLower) / Math.exp(logDensity(a, b, point) - logLower);
    u += change;
    if (Math.abs(change) <= 1e-15 * Math.max(1, Math.abs(u))) break;
  }
  return u;
}

/** The x with I_x(a, b) = p. a, b > 0, 0 <= p <= 1. Accuracy: relative 1e-11. */
export function inverseBeta(a: number, b: number, p: number): number {
  if (!(a > 0 && b > 0 && p >= 0 && p <= 1)) return Number.NaN;
  if (p === 0 || p === 1) return p;
  return pointAtLogOdds(inverseBetaLogOdds(a, b, p, 1 - p)).x;
}
