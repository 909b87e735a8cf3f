import type { ProportionalHazardsFound, ProportionalHazardsInput } from "../types.ts";
import { compileHazards, standardised } from "./compileHazards.ts";
import { followUp } from "./followUp.ts";

export interface BaselineHazard {
  /** "" without strata. */
  readonly stratum: string;
  /** One step at each failure age, ascending; flat between and after. */
  readonly steps: readonly { readonly age: number; readonly cumulativeHazard: number }[];
}

/**
 * Cumulative hazard over age, stratum by stratum, of a row with given columns.
 *
 * @param row   Values of the design's columns; all 0 by default.
 * Source       Breslow (1972, discussion of Cox), with Efron's sums where ties are Efron's.
 */
export function baselineHazard(
  fit: ProportionalHazardsFound,
  input: ProportionalHazardsInput,
  row: ArrayLike<number> = new Float64Array(fit.coefficients.length),
): BaselineHazard[] {
  const { standard, ordered, surface } = compileHazards(input);
  const { ages, bounds, cumulative } = followUp(ordered, surface.weights(standardised(fit.coefficients, standard)));
  const factor = Math.exp(fit.coefficients.reduce((sum, b, j) => sum + b * (row[j]! - standard.means[j]!), 0));
  return ordered.names.map((stratum, s) => ({
    stratum,
    steps: Array.from(ages.subarray(bounds[s], bounds[s + 1]), (age, i) => ({
      age,
      cumulativeHazard: factor * cumulative[bounds[s]! + i]!,
    })),
  }));
}
