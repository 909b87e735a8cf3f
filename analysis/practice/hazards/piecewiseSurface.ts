import type { Surface } from "../../estimation/climbNewton.ts";
import type { LifeSample } from "../../estimation/types.ts";
import { intervalTerm } from "../common/intervalTerm.ts";
import { addOuter } from "../common/jet.ts";
import type { StandardDesign } from "../common/standardiseDesign.ts";

/**
 * Log likelihood of a hazard that is constant between cuts: over (log hazard of each piece at mean columns, b of the standardised
 * columns). H(t) = exp(x'b) sum over pieces of hazard times the age lived in it.
 *
 * @param cuts  Ascending, above 0; pieces (0, cut 1], (cut 1, cut 2], ..., beyond the last.
 */
export function piecewiseSurface(sample: LifeSample, design: StandardDesign, cuts: readonly number[]): Surface {
  const { columns: k, values } = design;
  const pieces = cuts.length + 1;
  const m = pieces + k;
  const direction = new Float64Array(m);
  const byLower = new Float64Array(m);
  const byUpper = new Float64Array(m);
  const six = new Float64Array(6);

  /** log H at an age; writes its derivatives: shares of the pieces, then x. -Infinity at age 0. */
  const logHazardSum = (row: number, age: number, at: readonly number[], by: Float64Array): number => {
    let sum = 0;
    for (let p = 0; p < pieces; p++) {
      const from = p === 0 ? 0 : cuts[p - 1]!;
      const lived = Math.max(0, Math.min(age, cuts[p] ?? Number.POSITIVE_INFINITY) - from);
      by[p] = lived * Math.exp(at[p]!);
      sum += by[p]!;
    }
    for (let p = 0; p < pieces; p++) by[p] = sum > 0 ? by[p]! / sum : 0;
    let linear = 0;
    for (let j = 0; j < k; j++) {
      by[pieces + j] = values[row * k + j]!;
      linear += values[row * k + j]! * at[pieces + j]!;
    }
    return Math.log(sum) + linear;
  };

  /** Adds `slope` times the second derivatives of log H: diagonal shares less their products. */
  const addBend = (hessian: Float64Array, slope: number, by: Float64Array): void => {
    for (let p = 0; p < pieces; p++) {
      hessian[p * m + p]! += slope * by[p]!;
      for (let q = 0; q < pieces; q++) hessian[p * m + q]! -= slope * by[p]! * by[q]!;
    }
  };

  const addHazard = (
    row: number,
    age: number,
    weight: number,
    at: readonly number[],
    gradient: Float64Array,
    hessian: Float64Array,
  ): number => {
    if (!(age > 0)) return 0;
    const hazard = weight * Math.exp(logHazardSum(row, age, at, direction));
    for (let a = 0; a < m; a++) gradient[a]! += hazard * direction[a]!;
    addOuter(hessian, hazard, direction);
    addBend(hessian, hazard, direction);
    return hazard;
  };

  const addInterval = (
    row: number,
    count: number,
    at: readonly number[],
    gradient: Float64Array,
    hessian: Float64Array,
  ): number => {
    const lower = logHazardSum(row, sample.lower[row]!, at, byLower);
    const upper = logHazardSum(row, sample.upper[row]!, at, byUpper);
    intervalTerm(lower, upper, six);
    for (let a = 0; a < m; a++) gradient[a]! += count * (six[1]! * byLower[a]! + six[2]! * byUpper[a]!);
    addOuter(hessian, count * six[3]!, byLower);
    addOuter(hessian, count * six[4]!, byLower, byUpper);
    addOuter(hessian, count * six[4]!, byUpper, byLower);
    addOuter(hessian, count * six[5]!, byUpper);
    addBend(hessian, count * six[1]!, byLower);
    addBend(hessian, count * six[2]!, byUpper);
    return count * six[0]!;
  };

  return {
    dimension: m,
    evaluate: (at, gradient, hessian) => {
      gradient.fill(0);
      hessian.fill(0);
      let value = 0;
      for (let i = 0; i < sample.n; i++) {
        const count = sample.count[i]!;
        const [lower, upper] = [sample.lower[i]!, sample.upper[i]!];
        if (lower < upper && upper < Number.POSITIVE_INFINITY) value += addInterval(i, count, at, gradient, hessian);
        else {
          value += addHazard(i, lower, -count, at, gradient, hessian);
          if (lower === upper) {
            const piece = cuts.filter((cut) => cut < lower).length;
            value += count * at[piece]!;
            gradient[piece]! += count;
            for (let j = 0; j < k; j++) {
              value += count * values[i * k + j]! * at[pieces + j]!;
              gradient[pieces + j]! += count * values[i * k + j]!;
            }
          }
        }
        value += addHazard(i, sample.entry[i]!, count, at, gradient, hessian);
      }
      const isUsable = value > -1e250 && value < Number.POSITIVE_INFINITY && hessian.every(Number.isFinite);
      return isUsable ? value : Number.NEGATIVE_INFINITY;
    },
    reach: (_, step) => {
      const most = step.reduce((largest, one) => Math.max(largest, Math.abs(one)), 0);
      return most > 3 ? 3 / most : 1;
    },
  };
}
