/** The quotients (e^x - 1) / x and (e^x - 1 - x) / x^2 with their derivatives, through x = 0 without loss of digits. */
export interface ExpQuotients {
  /** e^x */
  exp: number;
  /** p(x) = (e^x - 1) / x and its derivative. */
  first: number;
  firstSlope: number;
  /** r(x) = (e^x - 1 - x) / x^2 and its first two derivatives. */
  second: number;
  secondSlope: number;
  secondBend: number;
}

/** Coefficients 1/(n + 2)!, (n + 1)/(n + 3)! and (n + 1)(n + 2)/(n + 4)! of r, r' and r''. */
const TERMS = 20;
const value: number[] = [];
const slope: number[] = [];
const bend: number[] = [];
for (let n = 0, factorial = 2; n < TERMS; n++) {
  const [one, two, three] = [factorial, factorial * (n + 3), factorial * (n + 3) * (n + 4)];
  value.push(1 / one);
  slope.push((n + 1) / two);
  bend.push(((n + 1) * (n + 2)) / three);
  factorial *= n + 3;
}

/**
 * Writes the quotients at x to `out`: a power series within |x| <= 1, outside it the recursions
 * x p = e^x - 1, x r = p - 1, x p' = e^x - p, x r' = p' - r, x p'' = e^x - 2p', x r'' = p'' - 2r'.
 *
 * Accuracy  relative 1e-14.
 */
export function expQuotients(x: number, out: ExpQuotients): void {
  const exp = Math.exp(x);
  out.exp = exp;
  if (Math.abs(x) <= 1) {
    let second = 0;
    let secondSlope = 0;
    let secondBend = 0;
    for (let n = TERMS - 1; n >= 0; n--) {
      second = second * x + value[n]!;
      secondSlope = secondSlope * x + slope[n]!;
      secondBend = secondBend * x + bend[n]!;
    }
    out.second = second;
    out.secondSlope = secondSlope;
    out.secondBend = secondBend;
    out.first = 1 + x * second;
    out.firstSlope = second + x * secondSlope;
    return;
  }
  out.first = (exp - 1) / x;
  out.firstSlope = (exp - out.first) / x;
  out.second = (out.first - 1) / x;
  out.secondSlope = (out.firstSlope - out.second) / x;
  out.secondBend = ((exp - 2 * out.firstSlope) / x - 2 * out.secondSlope) / x;
}

export const emptyExpQuotients = (): ExpQuotients => ({
  exp: 1,
  first: 1,
  firstSlope: 0.5,
  second: 0.5,
  secondSlope: 1 / 6,
  secondBend: 1 / 12,
});
