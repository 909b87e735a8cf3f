import type { Surface } from "../../estimation/climbNewton.ts";
import { factorPositive } from "../common/factorPositive.ts";
import { addCrossProducts } from "../common/weightedSums.ts";
import { eachTie } from "./eachTie.ts";
import { riskDoses } from "./riskDoses.ts";
import { type OrderedRows, walkRiskSets } from "./riskSets.ts";

export interface PartialLikelihood extends Surface {
  /** Log partial likelihood without any penalty. */
  logLikelihood(at: readonly number[]): number;
  /** exp(x'b) times count, position by position. */
  weights(at: readonly number[]): Float64Array;
}

export interface PartialPenalty {
  /** Precision of a normal prior on each standardised coefficient; 0 for none. */
  readonly precision: Float64Array;
  /** Adds half the log determinant of the information (of the columns as they are standardised). */
  readonly isBiasReducing: boolean;
}

/**
 * Log partial likelihood over coefficients of the standardised columns, with first and second derivatives.
 *   l(b) = sum over failures of x'b - log(sum of risk), risk = exp(x'b) of those at risk at that age
 * Tied failures, D of risk F: "efron" takes the sums S - (l / D) F, l = 0 .. D - 1, "breslow" takes S each time.
 *
 * Conventions  With the bias-reducing penalty the second derivatives are those of the likelihood alone: enough to climb by.
 * Source       Cox (1972), J. R. Statist. Soc. B 34; Breslow (1974), Biometrics 30; Efron (1977), J. Amer. Statist. Assoc. 72;
 *              Firth (1993), Biometrika 80; Heinze & Schemper (2001), Biometrics 57.
 */
export function partialLikelihood(rows: OrderedRows, penalty: PartialPenalty | null): PartialLikelihood {
  const { columns: k, x, count } = rows;
  const n = rows.row.length;
  const weights = new Float64Array(n);
  const linear = new Float64Array(n);
  const isBiasReducing = penalty?.isBiasReducing === true && k > 0;
  const third = isBiasReducing ? thirdMoments(rows) : null;

  const weigh = (at: readonly number[]): void => {
    for (let i = 0; i < n; i++) {
      let sum = 0;
      for (let j = 0; j < k; j++) sum += x[i * k + j]! * at[j]!;
      linear[i] = sum;
      weights[i] = count[i]! * Math.exp(sum);
    }
  };

  const doses = riskDoses(rows);
  const held = meansBuffer(k);

  const evaluate = (at: readonly number[], gradient: Float64Array, hessian: Float64Array): number => {
    weigh(at);
    gradient.fill(0);
    hessian.fill(0);
    doses.clear();
    let value = 0;
    const isDone = walkRiskSets(rows, weights, false, (set) => {
      for (let i = set.from; i < set.failedTo; i++) value += count[i]! * linear[i]!;
      for (let j = 0; j < k; j++) gradient[j]! += set.failedX[j]!;
      let hazard = 0;
      let ownHazard = 0;
      eachTie(rows, set, (share, times) => {
        const total = set.risk - share * set.failedRisk;
        const inverse = 1 / total;
        value -= times * Math.log(total);
        hazard += times * inverse;
        ownHazard += (1 - share) * times * inverse;
        const mean = held.next(times, hessian);
        for (let a = 0; a < k; a++) {
          const m = (set.first[a]! - share * set.failedFirst[a]!) * inverse;
          held.values[mean + a] = m;
          gradient[a]! -= times * m;
        }
      });
      doses.add(set, hazard, ownHazard);
    });
    if (!isDone || !Number.isFinite(value)) return Number.NEGATIVE_INFINITY;
    held.flush(hessian);
    // The second moments of all risk sets at once: each row counts as often as it was at risk, by its share.
    addCrossProducts(hessian, x, doses.negativeWeights(weights), n, k);
    for (let a = 0; a < k; a++) for (let b = 0; b < a; b++) hessian[b * k + a] = hessian[a * k + b]!;
    if (penalty) {
      for (let j = 0; j < k; j++) {
        const precision = penalty.precision[j]!;
        value -= 0.5 * precision * at[j]! ** 2;
        gradient[j]! -= precision * at[j]!;
        hessian[j * k + j]! -= precision;
      }
    }
    if (third) {
      const factor = factorPositive(
        hessian.map((one) => -one),
        k,
      );
      if (!factor) return Number.NEGATIVE_INFINITY;
      value += 0.5 * factor.logDeterminant;
      third(weights, factor.inverse(), gradient);
    }
    return value;
  };

  return {
    dimension: k,
    evaluate,
    // Across its whole range a column changes the hazard by at most e^5 in one step.
    reach: (_, step) => {
      const most = step.reduce((largest, one) => Math.max(largest, Math.abs(one)), 0);
      return most > 5 ? 5 / most : 1;
    },
    logLikelihood: (at) => {
      weigh(at);
      let value = 0;
      walkRiskSets(rows, weights, false, (set) => {
        for (let i = set.from; i < set.failedTo; i++) value += count[i]! * linear[i]!;
        eachTie(rows, set, (share, times) => {
          value -= times * Math.log(set.risk - share * set.failedRisk);
        });
      });
      return value;
    },
    weights: (at) => {
      weigh(at);
      return Float64Array.from(weights);
    },
  };
}

const BUFFERED = 64;

/** Collects means of risk sets with their weights, and adds weight mean mean' to a matrix many at a time. */
function meansBuffer(k: number) {
  const values = new Float64Array(BUFFERED * k);
  const weights = new Float64Array(BUFFERED);
  let used = 0;
  const flush = (matrix: Float64Array): void => {
    addCrossProducts(matrix, values, weights, used, k);
    used = 0;
  };
  return {
    values,
    flush,
    /** Place in `values` of a new mean. */
    next: (weight: number, matrix: Float64Array): number => {
      if (used === BUFFERED) flush(matrix);
      weights[used] = weight;
      used += 1;
      return (used - 1) * k;
    },
  };
}

/**
 * Adds 1/2 trace(I^-1 dI/db) to a gradient: dI/db_c is the sum of third central moments of x within the risk sets.
 */
function thirdMoments(rows: OrderedRows) {
  const { columns: k, x, start } = rows;
  const centred = new Float64Array(k);
  return (weights: Float64Array, inverse: Float64Array, gradient: Float64Array): void => {
    walkRiskSets(rows, weights, false, (set) => {
      const [first, end] = [rows.strata[set.stratum]!, rows.strata[set.stratum + 1]!];
      eachTie(rows, set, (share, times) => {
        const total = set.risk - share * set.failedRisk;
        for (let i = first; i < end && rows.stop[i]! >= set.age; i++) {
          if (start[i]! >= set.age) continue;
          const isFailed = i >= set.from && i < set.failedTo;
          const weight = (weights[i]! * (isFailed ? 1 - share : 1)) / total;
          for (let a = 0; a < k; a++) {
            centred[a] = x[i * k + a]! - (set.first[a]! - share * set.failedFirst[a]!) / total;
          }
          let form = 0;
          for (let a = 0; a < k; a++) {
            for (let b = 0; b < k; b++) form += inverse[a * k + b]! * centred[a]! * centred[b]!;
          }
          for (let c = 0; c < k; c++) gradient[c]! += 0.5 * times * weight * form * centred[c]!;
        }
      });
    });
  };
}
