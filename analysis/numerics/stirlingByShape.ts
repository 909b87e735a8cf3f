import { digamma, logGamma, stirlingCorrection, trigamma } from "./gammaFunction.ts";

/** s(a) = log Gamma(a) - [(a - 1/2) log a - a + log(2 pi) / 2], a > 0. Accuracy: relative 1e-14 from 10 on, absolute 1e-14 below. */
export function stirlingRemainder(a: number): number {
  if (a >= 10) return stirlingCorrection(a);
  return logGamma(a) - (a - 0.5) * Math.log(a) + a - 0.5 * Math.log(2 * Math.PI);
}

/** Coefficients of s(a) in odd powers of 1/a (DLMF 5.11.1). */
const SERIES = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360360, 1 / 156, -3617 / 122400];

/**
 * Stirling's remainder s(1 / q^2) and its first two derivatives by q, written to out[0..2]. Even in q, 0 at q = 0.
 *
 * Accuracy  absolute 1e-13.
 */
export function stirlingByQ(q: number, out: Float64Array): void {
  const square = q * q;
  if (square <= 0.1) {
    // s = sum c_j q^(4j + 2)
    const fourth = square * square;
    let s = 0;
    let first = 0;
    let second = 0;
    for (let j = SERIES.length - 1; j >= 0; j--) {
      const power = 4 * j + 2;
      s = s * fourth + SERIES[j]!;
      first = first * fourth + power * SERIES[j]!;
      second = second * fourth + power * (power - 1) * SERIES[j]!;
    }
    out[0] = s * square;
    out[1] = first * q;
    out[2] = second;
    return;
  }
  const a = 1 / square;
  const byA = digamma(a) - Math.log(a) + 0.5 / a;
  const byAA = trigamma(a) - 1 / a - 0.5 / (a * a);
  const slope = (-2 * a) / q;
  out[0] = stirlingRemainder(a);
  out[1] = byA * slope;
  out[2] = byAA * slope * slope + 6 * byA * a * a;
}
