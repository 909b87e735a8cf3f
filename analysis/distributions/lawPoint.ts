import type { LawFamily, Theta } from "./lawFamilies.ts";

/**
 * What one age adds to a log likelihood, with all first and second derivatives by theta = (mu, log sigma, third).
 * Each method writes [value, mu, s, q, mu mu, mu s, s s, mu q, s q, q q] to `out`.
 */
export interface LawPoint {
  /** log f(t), per unit of age. */
  logDensity(age: number, theta: Theta, out: Float64Array): void;
  logSurvival(age: number, theta: Theta, out: Float64Array): void;
  logFailed(age: number, theta: Theta, out: Float64Array): void;
  /** w of an age; -Infinity where the law has not begun. */
  standardised(age: number, theta: Theta): number;
  ageAt(w: number, theta: Theta): number;
  /** y(b) - y(a) for a < b, without cancellation. */
  span(a: number, b: number, theta: Theta): number;
  /** The age a fraction of `span` beyond a on the scale of y, and dt/dy there. */
  along(a: number, span: number, fraction: number, theta: Theta): number;
  ageByY(age: number, theta: Theta): number;
  /** Where the law lies on the scale of w and over which lengths it changes, for choosing panels of quadrature. */
  extent(theta: Theta): { readonly middle: number; readonly lengths: readonly number[] };
}

export const TEN = 10;
/** Place of the second derivative by theta[i], theta[j] among the ten. */
export const SECOND = [
  [4, 5, 7],
  [5, 6, 8],
  [7, 8, 9],
] as const;

/** Evaluates a family; holds scratch memory, so one point must not be used while another call of its own is running. */
export function lawPoint({ name, standard, ageScale }: LawFamily): LawPoint {
  const six = new Float64Array(6);
  const isLog = ageScale === "log";
  const isNatural = ageScale === "natural";
  const yOf = (age: number, theta: Theta): number =>
    isNatural ? age : isLog ? Math.log(age) : Math.log(age - theta[2]);
  const wOf = (age: number, theta: Theta): number => (yOf(age, theta) - theta[0]) * Math.exp(-theta[1]);

  /** From derivatives by (w, q) to those by theta. */
  const chain = (age: number, w: number, theta: Theta, out: Float64Array): void => {
    // Read one by one: taking a typed array apart goes through its iterator, ten times as slow.
    const dw = six[1]!;
    const ww = six[3]!;
    const rate = Math.exp(-theta[1]);
    out[0] = six[0]!;
    out[1] = -rate * dw;
    out[2] = -w * dw;
    out[4] = rate * rate * ww;
    out[5] = rate * (w * ww + dw);
    out[6] = w * (w * ww + dw);
    if (isLog || isNatural) {
      out[3] = six[2]!;
      out[7] = -rate * six[4]!;
      out[8] = -w * six[4]!;
      out[9] = six[5]!;
      return;
    }
    // The threshold moves w by -1 / (sigma (t - threshold)).
    const inverse = 1 / (age - theta[2]);
    const byThreshold = -rate * inverse;
    out[3] = byThreshold * dw;
    out[7] = -rate * byThreshold * ww;
    out[8] = -byThreshold * (w * ww + dw);
    out[9] = byThreshold * byThreshold * ww + byThreshold * inverse * dw;
  };

  const nothing = (value: number, out: Float64Array): void => {
    out.fill(0, 0, TEN);
    out[0] = value;
  };

  return {
    logDensity: (age, theta, out) => {
      const w = wOf(age, theta);
      if (!(w > Number.NEGATIVE_INFINITY)) return nothing(Number.NEGATIVE_INFINITY, out);
      standard.logDensity(w, theta[2], six);
      chain(age, w, theta, out);
      out[0] = out[0]! - theta[1];
      out[2] = out[2]! - 1;
      if (isLog) out[0] -= Math.log(age);
      else if (!isNatural) {
        const above = age - theta[2];
        out[0] -= Math.log(above);
        out[3] = out[3]! + 1 / above;
        out[9] = out[9]! + 1 / (above * above);
      }
    },
    logSurvival: (age, theta, out) => {
      const w = wOf(age, theta);
      if (!(w > Number.NEGATIVE_INFINITY)) return nothing(0, out);
      standard.logSurvival(w, theta[2], six);
      chain(age, w, theta, out);
    },
    logFailed: (age, theta, out) => {
      const w = wOf(age, theta);
      if (!(w > Number.NEGATIVE_INFINITY)) return nothing(Number.NEGATIVE_INFINITY, out);
      standard.logFailed(w, theta[2], six);
      chain(age, w, theta, out);
    },
    standardised: (age, theta) => {
      const w = wOf(age, theta);
      return Number.isNaN(w) ? Number.NEGATIVE_INFINITY : w;
    },
    ageAt: (w, theta) => {
      const y = theta[0] + Math.exp(theta[1]) * w;
      return isNatural ? y : isLog ? Math.exp(y) : theta[2] + Math.exp(y);
    },
    span: (a, b, theta) => (isNatural ? b - a : Math.log1p((b - a) / (isLog ? a : a - theta[2]))),
    along: (a, span, fraction, theta) => {
      if (isNatural) return a + span * fraction;
      return isLog ? a * Math.exp(span * fraction) : theta[2] + (a - theta[2]) * Math.exp(span * fraction);
    },
    ageByY: (age, theta) => (isNatural ? 1 : isLog ? age : age - theta[2]),
    extent: (theta) => {
      if (name === "gamma") {
        const shape = Math.exp(theta[2]);
        return { middle: theta[2], lengths: shape >= 1 ? [1 / Math.sqrt(shape)] : [1, 1 / shape] };
      }
      const sharp = name === "generalised gamma" ? Math.abs(theta[2]) : 1;
      return { middle: 0, lengths: sharp > 1 ? [1 / sharp, 1] : [1] };
    },
  };
}
