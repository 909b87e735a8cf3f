import type { Surface } from "../../estimation/climbNewton.ts";
import type { LifeSample } from "../../estimation/types.ts";
import { digamma, logGamma, trigamma } from "../../numerics/index.ts";
import { addOuter, type Jet, jet } from "../common/jet.ts";
import type { StandardDesign } from "../common/standardiseDesign.ts";
import type { FrailtyCluster } from "./frailtyClusters.ts";
import { FIRST_COLUMN, LEVEL, LOG_SHAPE, LOG_VARIANCE } from "./frailtyPlaces.ts";
import { logFrailtyIntegral } from "./logFrailtyIntegral.ts";

export interface FrailtySurface extends Surface {
  /** Mean of each tool's frailty given its lives, at a point. */
  frailties(at: readonly number[]): number[];
}

/**
 * Log likelihood of Weibull lives whose tools differ: hazard = u (shape / scale) (t / scale)^(shape - 1) exp(x'b), one u a tool,
 * gamma with mean 1 and variance v. With r = 1 / v, a tool with d failures at known ages and G the sum of cumulative hazards adds
 *
 *   sum log h + log Gamma(r + d) - log Gamma(r) + r log r - (r + d) log(r + G)
 *
 * and with failures found between looks the integral over u instead. Late entries are divided by: the chance that all of them
 * were still sound, r log r - r log(r + G at entry).
 *
 * Source  Klein (1992), Biometrics 48, 795-806; Duchateau & Janssen (2008), The Frailty Model, section 2.2.
 */
export function frailtySurface(
  sample: LifeSample,
  design: StandardDesign,
  clusters: readonly FrailtyCluster[],
): FrailtySurface {
  const { columns: k, values } = design;
  const m = FIRST_COLUMN + k;
  const direction = new Float64Array(m);

  /** log H(age) of a row; writes its first derivatives, and returns that by log shape twice, which equals the first. */
  const logHazardSum = (row: number, age: number, at: readonly number[], by: Float64Array): number => {
    const slope = Math.exp(at[LOG_SHAPE]!) * Math.log(age);
    by.fill(0);
    by[LOG_SHAPE] = slope;
    by[LEVEL] = 1;
    let sum = slope + at[LEVEL]!;
    for (let j = 0; j < k; j++) {
      const x = values[row * k + j]!;
      by[FIRST_COLUMN + j] = x;
      sum += x * at[FIRST_COLUMN + j]!;
    }
    return sum;
  };

  /** Adds count H(age) with its derivatives. */
  const addHazard = (sum: Jet, row: number, age: number, at: readonly number[]): void => {
    if (!(age > 0)) return;
    const hazard = sample.count[row]! * Math.exp(logHazardSum(row, age, at, direction));
    sum.value += hazard;
    for (let a = 0; a < m; a++) sum.gradient[a]! += hazard * direction[a]!;
    addOuter(sum.hessian, hazard, direction);
    sum.hessian[LOG_SHAPE * m + LOG_SHAPE]! += hazard * direction[LOG_SHAPE]!;
  };

  const sumOver = (rows: readonly number[], ages: Float64Array, at: readonly number[], sum: Jet): void => {
    for (const row of rows) addHazard(sum, row, ages[row]!, at);
  };

  const intervalsOf = (cluster: FrailtyCluster, at: readonly number[]) =>
    cluster.interval.map((row) => {
      const byLower = new Float64Array(m);
      const byUpper = new Float64Array(m);
      const lower =
        sample.lower[row]! > 0 ? logHazardSum(row, sample.lower[row]!, at, byLower) : Number.NEGATIVE_INFINITY;
      const upper = logHazardSum(row, sample.upper[row]!, at, byUpper);
      return { count: sample.count[row]!, lower, upper, byLower, byUpper };
    });

  const used = jet(m);
  const entered = jet(m);

  const addCluster = (cluster: FrailtyCluster, at: readonly number[], total: Jet): void => {
    used.clear();
    sumOver(cluster.exact, sample.lower, at, used);
    sumOver(cluster.right, sample.lower, at, used);
    const r = Math.exp(-at[LOG_VARIANCE]!);
    const d = cluster.failures;
    for (const row of cluster.exact) {
      // log h = log H + log shape - log age
      const count = sample.count[row]!;
      const age = sample.lower[row]!;
      total.value += count * (logHazardSum(row, age, at, direction) + at[LOG_SHAPE]! - Math.log(age));
      for (let a = 0; a < m; a++) total.gradient[a]! += count * direction[a]!;
      total.gradient[LOG_SHAPE]! += count;
      total.hessian[LOG_SHAPE * m + LOG_SHAPE]! += count * direction[LOG_SHAPE]!;
    }
    if (cluster.interval.length > 0) logFrailtyIntegral(r, d, used, intervalsOf(cluster, at), total);
    else addClosedForm(r, d, used, 1, total);
    if (cluster.late.length > 0) {
      entered.clear();
      sumOver(cluster.late, sample.entry, at, entered);
      addClosedForm(r, 0, entered, -1, total);
    }
  };

  const total = jet(m);
  return {
    dimension: m,
    evaluate: (at, gradient, hessian) => {
      total.clear();
      for (const cluster of clusters) addCluster(cluster, at, total);
      gradient.set(total.gradient);
      hessian.set(total.hessian);
      const isUsable = total.value > -1e250 && total.value < Number.POSITIVE_INFINITY && hessian.every(Number.isFinite);
      return isUsable ? total.value : Number.NEGATIVE_INFINITY;
    },
    reach: (_, step) => {
      const most = Math.max(Math.abs(step[LOG_SHAPE]!), 0.5 * Math.abs(step[LOG_VARIANCE]!));
      return most > 1 ? 1 / most : 1;
    },
    isAtEdge: (at) => at[LOG_VARIANCE]! < SMALLEST_LOG_VARIANCE,
    frailties: (at) =>
      clusters.map((cluster) => {
        used.clear();
        sumOver(cluster.exact, sample.lower, at, used);
        sumOver(cluster.right, sample.lower, at, used);
        const r = Math.exp(-at[LOG_VARIANCE]!);
        if (cluster.interval.length === 0) return (r + cluster.failures) / (r + used.value);
        return logFrailtyIntegral(r, cluster.failures, used, intervalsOf(cluster, at), jet(m));
      }),
  };
}

/** Below this the tools are alike in doubles: log Gamma(r + d) - log Gamma(r) has lost what tells them apart. */
const SMALLEST_LOG_VARIANCE = -14;

/** Adds sign times log Gamma(r + d) - log Gamma(r) + r log r - (r + d) log(r + G), r = exp(-log variance). */
function addClosedForm(
  r: number,
  d: number,
  { value: sum, gradient: by, hessian: by2 }: Jet,
  sign: 1 | -1,
  total: Jet,
): void {
  const m = by.length;
  const all = r + sum;
  total.value += sign * (logGamma(r + d) - logGamma(r) + r * Math.log(r) - (r + d) * Math.log(all));
  const byR = digamma(r + d) - digamma(r) + Math.log(r / all) + 1 - (r + d) / all;
  const byRR = trigamma(r + d) - trigamma(r) + 1 / r - 1 / all - (sum - d) / (all * all);
  const bySum = -(r + d) / all;
  const bySumSum = (r + d) / (all * all);
  const bySumR = -1 / all + (r + d) / (all * all);
  for (let a = 0; a < m; a++) {
    total.gradient[a]! += sign * bySum * by[a]!;
    for (let b = 0; b < m; b++) {
      total.hessian[a * m + b]! += sign * (bySum * by2[a * m + b]! + bySumSum * by[a]! * by[b]!);
    }
    // dr / d log variance = -r
    total.hessian[a * m + LOG_VARIANCE]! -= sign * r * bySumR * by[a]!;
    total.hessian[LOG_VARIANCE * m + a]! -= sign * r * bySumR * by[a]!;
  }
  total.gradient[LOG_VARIANCE]! -= sign * r * byR;
  total.hessian[LOG_VARIANCE * m + LOG_VARIANCE]! += sign * (r * r * byRR + r * byR);
}
