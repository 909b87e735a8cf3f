/** The gamma function, its logarithm and the first two derivatives of that logarithm. */

const HALF_LOG_TWO_PI = 0.5 * Math.log(2 * Math.PI);
const EULER = 0.5772156649015329;

/** Coefficients of the Stirling series, B(2k) / (2k (2k - 1)) (DLMF 5.11.1). */
const STIRLING = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360360, 1 / 156, -3617 / 122400];

/** zeta(k) - 1 for k = 2..36 by Euler-Maclaurin summation (DLMF 25.2.9). */
const ZETA_MINUS_ONE: readonly number[] = Array.from({ length: 35 }, (_, index) => zetaMinusOne(index + 2));

function zetaMinusOne(k: number): number {
  const last = 40;
  let sum = 0;
  for (let n = last - 1; n >= 2; n--) sum += n ** -k;
  return (
    sum +
    last ** (1 - k) / (k - 1) +
    0.5 * last ** -k +
    (k * last ** (-k - 1)) / 12 -
    (k * (k + 1) * (k + 2) * last ** (-k - 3)) / 720 +
    (k * (k + 1) * (k + 2) * (k + 3) * (k + 4) * last ** (-k - 5)) / 30240
  );
}

/**
 * Correction of Stirling's formula, log Gamma(x) - [(x - 1/2) log x - x + log(2 pi) / 2].
 *
 * @param x  x >= 10.
 * Accuracy  relative 1e-15.
 */
export function stirlingCorrection(x: number): number {
  const inverseSquare = 1 / (x * x);
  let sum = 0;
  for (let k = STIRLING.length - 1; k >= 0; k--) sum = sum * inverseSquare + (STIRLING[k] ?? 0);
  return sum / x;
}

/** log Gamma(2 + z) for |z| <= 1/2: (1 - gamma) z + sum over k >= 2 of (-1)^k (zeta(k) - 1) z^k / k (DLMF 5.7.3). */
function logGammaNearTwo(z: number): number {
  let sum = 0;
  for (let k = ZETA_MINUS_ONE.length + 1; k >= 2; k--) sum = ((ZETA_MINUS_ONE[k - 2] ?? 0) / k - sum) * z;
  return z * (1 - EULER + sum);
}

/**
 * Logarithm of |Gamma(x)|.
 *
 * @param x  Any number that is not 0, -1, -2, ...; there the answer is Infinity.
 * Accuracy  relative 1e-14, also beside the zeros at 1 and 2.
 */
export function logGamma(x: number): number {
  if (Number.isNaN(x)) return Number.NaN;
  if (x <= 0) {
    if (Number.isInteger(x)) return Number.POSITIVE_INFINITY;
    return Math.log(Math.PI / Math.abs(sinPi(x))) - logGamma(1 - x);
  }
  if (x >= 10) {
    if (x === Number.POSITIVE_INFINITY) return x;
    return (x - 0.5) * Math.log(x) - x + HALF_LOG_TWO_PI + stirlingCorrection(x);
  }
  if (x < 0.5) return logGammaNearTwo(x) - Math.log(x) - Math.log1p(x);
  if (x < 1.5) return logGammaNearTwo(x - 1) - Math.log1p(x - 1);
  let product = 1;
  let reduced = x;
  while (reduced > 2.5) {
    reduced -= 1;
    product *= reduced;
  }
  return logGammaNearTwo(reduced - 2) + Math.log(product);
}

/** Gamma(x). Infinity beyond 171.6, NaN at 0, -1, -2, ... Accuracy: relative 1e-14. */
export function gamma(x: number): number {
  if (x <= 0) {
    if (Number.isInteger(x)) return Number.NaN;
    return Math.PI / (sinPi(x) * gamma(1 - x));
  }
  if (x >= 10) {
    // The power is split in two because x^x overflows before Gamma(x) does.
    const root = x ** (0.5 * x - 0.25);
    return root * (Math.sqrt(2 * Math.PI) * Math.exp(stirlingCorrection(x) - x)) * root;
  }
  if (Number.isInteger(x)) {
    let product = 1;
    for (let factor = 2; factor < x; factor++) product *= factor;
    return product;
  }
  return Math.exp(logGamma(x));
}

/** Derivative of log Gamma(x), x not 0, -1, -2, ... Accuracy: relative 1e-14 away from the zero at 1.4616. Source: DLMF 5.11.2. */
export function digamma(x: number): number {
  if (x <= 0) {
    if (Number.isInteger(x)) return Number.NaN;
    return digamma(1 - x) - Math.PI / Math.tan(Math.PI * x);
  }
  let shift = 0;
  let z = x;
  while (z < 12) {
    shift -= 1 / z;
    z += 1;
  }
  const w = 1 / (z * z);
  const series =
    w * (1 / 12 - w * (1 / 120 - w * (1 / 252 - w * (1 / 240 - w * (1 / 132 - w * (691 / 32760 - w * (1 / 12)))))));
  return Math.log(z) - 0.5 / z - series + shift;
}

/** Second derivative of log Gamma(x), x not 0, -1, -2, ... Accuracy: relative 1e-14. Source: DLMF 5.15.8. */
export function trigamma(x: number): number {
  if (x <= 0) {
    if (Number.isInteger(x)) return Number.NaN;
    const sine = sinPi(x);
    return (Math.PI / sine) ** 2 - trigamma(1 - x);
  }
  let shift = 0;
  let z = x;
  while (z < 12) {
    shift += 1 / (z * z);
    z += 1;
  }
  const w = 1 / (z * z);
  const series =
    w * (1 / 6 - w * (1 / 30 - w * (1 / 42 - w * (1 / 30 - w * (5 / 66 - w * (691 / 2730 - w * (7 / 6)))))));
  return (1 + series) / z + 0.5 * w + shift;
}

function sinPi(x: number): number {
  const turn = x - 2 * Math.round(x / 2);
  return Math.sin(Math.PI * turn);
}
