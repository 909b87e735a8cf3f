/**
 * Both tails of the gamma law with their derivatives by the shape, from the series and the continued fraction
 * differentiated term by term: no differences of near equals, no step to choose.
 */

import { deviance } from "./deviance.ts";
import { digamma, logGamma, trigamma } from "./gammaFunction.ts";
import { logComplement } from "./incompleteGamma.ts";
import { stirlingRemainder } from "./stirlingByShape.ts";

/** log P(a, x), log Q(a, x), and their first and second derivatives by a at fixed x. */
export interface GammaTails {
  logLower: number;
  lowerSlope: number;
  lowerBend: number;
  logUpper: number;
  upperSlope: number;
  upperBend: number;
}

export const emptyGammaTails = (): GammaTails => ({
  logLower: 0,
  lowerSlope: 0,
  lowerBend: 0,
  logUpper: 0,
  upperSlope: 0,
  upperBend: 0,
});

const MAX_TERMS = 1_000_000;

/** log Gamma, psi and psi' at 1 + a, kept while a stays: a likelihood asks for thousands of tails at one shape. */
const atShape = { a: Number.NaN, logGamma: 0, digamma: 0, trigamma: 0 };

function gammaOf(a: number): Readonly<typeof atShape> {
  if (atShape.a !== a) {
    atShape.a = a;
    atShape.logGamma = logGamma(1 + a);
    atShape.digamma = digamma(1 + a);
    atShape.trigamma = trigamma(1 + a);
  }
  return atShape;
}

/**
 * @param a     a > 0.
 * @param logX  log x, so that x may lie outside the doubles.
 * Accuracy     values relative 1e-13, derivatives 1e-12, for a up to 5000; slower and less beyond.
 * Source       DLMF 8.7.1 and 8.11.4 (series), 8.9.2 (continued fraction, Lentz's method), each differentiated by a.
 */
export function gammaTailsByShape(a: number, logX: number, out: GammaTails): void {
  const x = Math.exp(logX);
  if (x < 1e-290) {
    // P = x^a / Gamma(a + 1) to first order.
    const constants = gammaOf(a);
    out.logLower = a * logX - constants.logGamma;
    out.lowerSlope = logX - constants.digamma;
    out.lowerBend = -constants.trigamma;
    complement(out, "upper");
    return;
  }
  if (x === Number.POSITIVE_INFINITY) {
    out.logLower = 0;
    out.lowerSlope = 0;
    out.lowerBend = 0;
    out.logUpper = Number.NEGATIVE_INFINITY;
    out.upperSlope = logX - digamma(a);
    out.upperBend = -trigamma(a);
    return;
  }
  if (a < 1 && x <= 1) smallShape(a, x, logX, out);
  else if (x < a + 1) {
    series(a, x, logX, out);
    complement(out, "upper");
  } else {
    fraction(a, x, logX, out);
    complement(out, "lower");
  }
}

/** P = Lead (1 + a s) with Lead = x^a / Gamma(1 + a), s = sum over n >= 1 of (-x)^n / (n! (a + n)); Q = 1 - P term by term. */
function smallShape(a: number, x: number, logX: number, out: GammaTails): void {
  let term = 1;
  let s = 0;
  let s1 = 0;
  let s2 = 0;
  for (let n = 1; n < 100; n++) {
    term *= -x / n;
    const share = term / (a + n);
    s += share;
    s1 -= share / (a + n);
    s2 += (2 * share) / ((a + n) * (a + n));
    if (Math.abs(term) < 1e-18) break;
  }
  const constants = gammaOf(a);
  const logLead = a * logX - constants.logGamma;
  const leadSlope = logX - constants.digamma;
  const leadBend = -constants.trigamma;
  const lead = Math.exp(logLead);
  const factor = 1 + a * s;
  const factorSlope = s + a * s1;
  const factorBend = 2 * s1 + a * s2;
  out.logLower = logLead + Math.log1p(a * s);
  out.lowerSlope = leadSlope + factorSlope / factor;
  out.lowerBend = leadBend + factorBend / factor - (factorSlope / factor) ** 2;
  const upper = -Math.expm1(logLead) - lead * a * s;
  const upperSlope = -lead * (leadSlope * factor + factorSlope);
  const upperBend = -lead * ((leadSlope * leadSlope + leadBend) * factor + 2 * leadSlope * factorSlope + factorBend);
  out.logUpper = Math.log(upper);
  out.upperSlope = upperSlope / upper;
  out.upperBend = upperBend / upper - (upperSlope / upper) ** 2;
}

/** log of x^a exp(-x) / Gamma(a + 1). */
function logPrefix(a: number, x: number, logX: number): number {
  if (a < 10) return a * logX - x - gammaOf(a).logGamma;
  return -stirlingRemainder(a) - a * deviance((x - a) / a, logX - Math.log(a)) - 0.5 * Math.log(2 * Math.PI * a);
}

/** P = prefix * sum of t_n, t_n = x^n / ((a + 1) ... (a + n)). */
function series(a: number, x: number, logX: number, out: GammaTails): void {
  let term = 1;
  let slope = 0;
  let bend = 0;
  let sum = 1;
  let sumSlope = 0;
  let sumBend = 0;
  for (let n = 1; n < MAX_TERMS; n++) {
    const inverse = 1 / (a + n);
    term *= x * inverse;
    slope -= inverse;
    bend += inverse * inverse;
    const bent = term * (slope * slope + bend);
    sum += term;
    sumSlope += term * slope;
    sumBend += bent;
    if (term <= 1e-17 * sum && bent <= 1e-16 * sumBend) break;
  }
  const first = sumSlope / sum;
  out.logLower = Math.min(0, logPrefix(a, x, logX) + Math.log(sum));
  const constants = gammaOf(a);
  out.lowerSlope = logX - constants.digamma + first;
  out.lowerBend = -constants.trigamma + sumBend / sum - first * first;
}

/** Q = x^a exp(-x) / Gamma(a) * fraction. c, d and the logarithm of the fraction carry their derivatives by a. */
function fraction(a: number, x: number, logX: number, out: GammaTails): void {
  let b = x + 1 - a;
  let c = 1e300;
  let c1 = 0;
  let c2 = 0;
  let d = 1 / b;
  let d1 = d * d;
  let d2 = 2 * d * d * d;
  let value = Math.log(d);
  let slope = d1 / d;
  let bend = d2 / d - slope * slope;
  for (let n = 1; n < MAX_TERMS; n++) {
    const numerator = n * (a - n);
    b += 2;
    // d <- 1 / (numerator d + b)
    const below = nonZero(numerator * d + b);
    const below1 = n * d + numerator * d1 - 1;
    const below2 = 2 * n * d1 + numerator * d2;
    d = 1 / below;
    d1 = -below1 * d * d;
    d2 = (2 * below1 * below1 * d - below2) * d * d;
    // c <- b + numerator / c
    const inverse = 1 / c;
    const q1 = -c1 * inverse * inverse;
    const q2 = (2 * c1 * c1 * inverse - c2) * inverse * inverse;
    const next = nonZero(b + numerator * inverse);
    c1 = -1 + n * inverse + numerator * q1;
    c2 = 2 * n * q1 + numerator * q2;
    c = next;
    const change = c * d;
    const first = c1 / c + d1 / d;
    const second = c2 / c - (c1 / c) ** 2 + d2 / d - (d1 / d) ** 2;
    value += Math.log(change);
    slope += first;
    bend += second;
    if (
      Math.abs(change - 1) <= 2e-16 &&
      Math.abs(first) <= 1e-15 * Math.abs(slope) + 1e-18 &&
      Math.abs(second) <= 1e-14 * Math.abs(bend) + 1e-18
    ) {
      break;
    }
  }
  out.logUpper = Math.min(0, logPrefix(a, x, logX) + Math.log(a) + value);
  out.upperSlope = logX - digamma(a) + slope;
  out.upperBend = -trigamma(a) + bend;
}

function nonZero(value: number): number {
  return Math.abs(value) < 1e-300 ? 1e-300 : value;
}

/** The other tail: 1 - P, its derivatives -P' / (1 - P). */
function complement(out: GammaTails, missing: "lower" | "upper"): void {
  const isUpper = missing === "upper";
  const known = isUpper ? out.logLower : out.logUpper;
  const slope = isUpper ? out.lowerSlope : out.upperSlope;
  const bend = isUpper ? out.lowerBend : out.upperBend;
  const other = logComplement(known);
  const ratio = Math.exp(known - other);
  const first = -ratio * slope;
  const second = -ratio * (bend + slope * slope) - first * first;
  if (isUpper) {
    out.logUpper = other;
    out.upperSlope = first;
    out.upperBend = second;
  } else {
    out.logLower = other;
    out.lowerSlope = first;
    out.lowerBend = second;
  }
}
