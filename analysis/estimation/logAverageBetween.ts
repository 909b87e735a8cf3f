import type { Theta } from "../distributions/lawFamilies.ts";
import { type LawPoint, TEN } from "../distributions/lawPoint.ts";
import { gaussLegendre } from "../numerics/index.ts";
import { logSum } from "./logProbabilityBetween.ts";

/** A life whose ends are known only to lie in ranges; upper = upperHigh = Infinity for one that had not failed. */
export interface RangedLife {
  readonly lower: number;
  readonly lowerHigh: number;
  readonly upper: number;
  readonly upperHigh: number;
}

/** Standardised ages between which every law here is smooth enough for one panel. */
const BREAKS = [-40, -28, -20, -14, -10, -7.5, -5.5, -4, -3, -2, -1, 0, 0.8, 1.6, 2.4, 3.2, 4, 5.5, 7.5, 10, 14, 20];
const POINTS = 12;

/**
 * A function that writes the logarithm of the average of P(lower < T <= upper) over both ranges, with its derivatives.
 * Only the averages of S at either end enter, so the ends are paired at the same fraction of their ranges: every term is
 * positive, whatever the dependence between the two.
 *
 * Accuracy  relative 1e-9: panels of 12 points, parted where the standardised age passes the values above.
 */
export function logAverageBetween(
  point: LawPoint,
  between: (a: number, b: number, theta: Theta, out: Float64Array) => void,
): (life: RangedLife, theta: Theta, out: Float64Array) => void {
  const one = new Float64Array(TEN);
  const sum = logSum();
  return ({ lower, lowerHigh, upper, upperHigh }, theta, out) => {
    const { middle, lengths } = point.extent(theta);
    const fractions = [0, 1];
    const addBreak = (w: number): void => {
      const age = point.ageAt(w, theta);
      if (age > lower && age < lowerHigh) fractions.push((age - lower) / (lowerHigh - lower));
      if (age > upper && age < upperHigh) fractions.push((age - upper) / (upperHigh - upper));
    };
    for (const length of lengths) {
      for (const w of BREAKS) addBreak(middle + length * w);
    }
    fractions.sort((a, b) => a - b);
    const { nodes, weights } = gaussLegendre(POINTS);
    sum.clear();
    for (let panel = 1; panel < fractions.length; panel++) {
      const start = fractions[panel - 1]!;
      const size = fractions[panel]! - start;
      if (size <= 0) continue;
      for (let i = 0; i < POINTS; i++) {
        const fraction = start + size * nodes[i]!;
        const from = lower + fraction * (lowerHigh - lower);
        const to = upper === Number.POSITIVE_INFINITY ? upper : upper + fraction * (upperHigh - upper);
        between(from, to, theta, one);
        one[0] = one[0]! + Math.log(size * weights[i]!);
        sum.add(one);
      }
    }
    sum.write(out);
  };
}
