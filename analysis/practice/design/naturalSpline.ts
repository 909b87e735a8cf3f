import { AnalysisError } from "../../errors.ts";

/**
 * Natural cubic spline of a variable: itself, and k - 2 columns that bend between the knots and are straight beyond the outer two.
 *   C_j(x) = [(x - t_j)+^3 - (x - t_{k-1})+^3 (t_k - t_j) / (t_k - t_{k-1}) + (x - t_k)+^3 (t_{k-1} - t_j) / (t_k - t_{k-1})] / (t_k - t_1)^2
 *
 * @param knots  At least 3, ascending.
 * @returns      k - 1 values; the first is x.
 * Source        Stone & Koo (1985), as in Harrell (2015), Regression Modeling Strategies, section 2.4.5.
 */
export function naturalSpline(x: number, knots: readonly number[]): number[] {
  const k = knots.length;
  const last = knots[k - 1]!;
  const before = knots[k - 2]!;
  const cube = (value: number): number => (value > 0 ? value ** 3 : 0);
  const columns = [x];
  for (let j = 0; j < k - 2; j++) {
    const knot = knots[j]!;
    const bent =
      cube(x - knot) -
      (cube(x - before) * (last - knot)) / (last - before) +
      (cube(x - last) * (before - knot)) / (last - before);
    columns.push(bent / (last - knots[0]!) ** 2);
  }
  return columns;
}

const FRACTIONS: Readonly<Record<number, readonly number[]>> = {
  3: [0.1, 0.5, 0.9],
  4: [0.05, 0.35, 0.65, 0.95],
  5: [0.05, 0.275, 0.5, 0.725, 0.95],
};

/**
 * Knots at the usual fractions of the values.
 *
 * @param count   3, 4 or 5.
 * Errors         "bad-setting" for another number, or where the values take too few different ones for that many knots.
 * Source         Harrell (2015), table 2.3; fractions by linear interpolation between ordered values.
 */
export function splineKnots(name: string, values: ArrayLike<number>, count: number): number[] {
  const fractions = FRACTIONS[count];
  if (!fractions) throw new AnalysisError("bad-setting", { setting: "knots", value: count, allowed: "3, 4 or 5" });
  const sorted = Float64Array.from(values).sort();
  const knots = fractions.map((fraction) => {
    const place = fraction * (sorted.length - 1);
    const low = Math.floor(place);
    const next = sorted[Math.min(low + 1, sorted.length - 1)]!;
    return sorted[low]! + (place - low) * (next - sorted[low]!);
  });
  if (!knots.every((knot, j) => j === 0 || knot > knots[j - 1]!)) {
    throw new AnalysisError("bad-setting", {
      setting: `knots of ${name}`,
      value: count,
      allowed: "more different values",
    });
  }
  return knots;
}
