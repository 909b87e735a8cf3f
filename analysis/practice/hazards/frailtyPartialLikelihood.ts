import { climbNewton, type Surface } from "../../estimation/climbNewton.ts";
import { factorPositive } from "../common/factorPositive.ts";
import { standardiseDesign } from "../common/standardiseDesign.ts";
import type { DesignMatrix, ProportionalHazardsInput } from "../types.ts";
import { partialLikelihood } from "./partialLikelihood.ts";
import { orderRows } from "./riskSets.ts";

/** Of the frailty u of a tool: gamma with mean 1, or log u normal with mean 0; `variance` of u, or of log u. */
export type FrailtyLaw = "gamma" | "log-normal";

/** A fit at a fixed variance. */
export interface FrailtyPoint {
  readonly isFound: boolean;
  readonly variance: number;
  readonly coefficients: readonly number[];
  /** Log frailties, tools in the order of code points. */
  readonly logFrailties: readonly number[];
  /** Log partial likelihood with the frailties as coefficients, without their penalty. */
  readonly logLikelihood: number;
  readonly penalty: number;
  /** Inverse of the penalised information, (k + q) x (k + q): columns as they are, then tools. */
  readonly inverse: Float64Array;
  readonly iterations: number;
}

export interface FrailtyFits {
  readonly tools: readonly string[];
  /** Failures of each tool, counts included. */
  readonly failures: Float64Array;
  at(variance: number): FrailtyPoint;
}

/**
 * Fits proportional hazards with one log frailty w a tool as a penalised coefficient:
 *   gamma       partial log likelihood + sum (w - e^w) / v
 *   log-normal  partial log likelihood - sum w^2 / (2 v)
 *
 * Accuracy  Newton's method with all second derivatives: the cost grows with rows x (columns + tools)^2.
 * Source    Therneau, Grambsch & Pankratz (2003), J. Comp. Graph. Statist. 12, 156-175.
 */
export function frailtyPartialLikelihood(
  input: ProportionalHazardsInput & { readonly clusters: readonly string[] },
  law: FrailtyLaw,
): FrailtyFits {
  const { rows, design, ties = "efron", strata, clusters } = input;
  const tools = [...new Set(clusters)].sort();
  const place = new Map(tools.map((tool, c) => [tool, c]));
  const of = Uint32Array.from(clusters, (tool) => place.get(tool)!);
  const failures = new Float64Array(tools.length);
  for (let i = 0; i < rows.n; i++) failures[of[i]!]! += rows.failed[i]! * rows.count[i]!;
  const k = design.names.length;
  const m = k + tools.length;
  const standard = standardiseDesign(withTools(design, of, tools), rows.count);
  const inner = partialLikelihood(orderRows(rows, standard, ties, strata), null);
  let start: readonly number[] = new Array<number>(m).fill(0);

  const penaltyOf = (w: number, variance: number): readonly [number, number, number] => {
    if (law === "log-normal") return [(w * w) / (2 * variance), w / variance, 1 / variance];
    const u = Math.exp(w);
    return [(u - w) / variance, (u - 1) / variance, u / variance];
  };

  return {
    tools,
    failures,
    at: (variance) => {
      const surface: Surface = {
        dimension: m,
        evaluate: (at, gradient, hessian) => {
          let value = inner.evaluate(at, gradient, hessian);
          for (let c = k; c < m; c++) {
            const [penalty, slope, bend] = penaltyOf(at[c]!, variance);
            value -= penalty;
            gradient[c]! -= slope;
            hessian[c * m + c]! -= bend;
          }
          return Number.isFinite(value) ? value : Number.NEGATIVE_INFINITY;
        },
        reach: inner.reach,
      };
      const climbed = climbNewton(surface, start, input);
      const inverse = factorPositive(
        climbed.hessian.map((value) => -value),
        m,
      )?.inverse();
      const isFound = climbed.converged && inverse !== undefined;
      if (isFound) start = climbed.at;
      const ranges = standard.ranges;
      const logFrailties = climbed.at.slice(k);
      const penalty = logFrailties.reduce((sum, w) => sum + penaltyOf(w, variance)[0], 0);
      return {
        isFound,
        variance,
        coefficients: climbed.at.slice(0, k).map((b, j) => b / ranges[j]!),
        logFrailties,
        logLikelihood: climbed.value + penalty,
        penalty,
        inverse: (inverse ?? new Float64Array(m * m)).map(
          (value, at) => value / (ranges[Math.floor(at / m)]! * ranges[at % m]!),
        ),
        iterations: climbed.iterations,
      };
    },
  };
}

/** The design with one column a tool, 1 for its rows. */
function withTools(design: DesignMatrix, of: Uint32Array, tools: readonly string[]): DesignMatrix {
  const k = design.names.length;
  const m = k + tools.length;
  const values = new Float64Array(design.rows * m);
  for (let i = 0; i < design.rows; i++) {
    values.set(design.values.subarray(i * k, (i + 1) * k), i * m);
    values[i * m + k + of[i]!] = 1;
  }
  return { rows: design.rows, names: [...design.names, ...tools], values, terms: [] };
}
