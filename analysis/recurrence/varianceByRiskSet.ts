import { countByAge, isObserved } from "./meanCumulativeFunction.ts";
import type { RecurrentUnit } from "./types.ts";

/**
 * Variance of the mean cumulative function from covariances within the units at risk at the later of each two ages:
 *   V(t) = sum over event ages j, k <= t of C_jk,  C_jk = 1 / (n_j (n_k - 1)) * sum over units at risk at k, j <= k, of
 *          (d_ij - mean of d_j over those units) (d_ik - d_k/n_k)
 *
 * @returns  One value a distinct event age, ascending; null from the first age on at which a single unit is at risk. It
 *           can exceed the robust variance or fall short of it.
 * Source    Nelson (2003), Recurrent Events Data Analysis for Product Repairs, section 4.2 (from memory).
 */
export function varianceByRiskSet(units: readonly RecurrentUnit[]): readonly (number | null)[] {
  const counted = units.map((unit) => countByAge(unit.events));
  const times = [...new Set(units.flatMap((unit) => unit.events))].sort((a, b) => a - b);
  const sizes = times.map((time) => units.filter((unit) => isObserved(unit, time)).length);
  const values: (number | null)[] = [];
  let variance: number | null = 0;
  for (const [k, later] of times.entries()) {
    const present = units.flatMap((unit, i) => (isObserved(unit, later) ? [i] : []));
    if (present.length < 2) variance = null;
    if (variance !== null) {
      const now = centred(present.map((i) => counted[i]?.get(later) ?? 0));
      for (let j = 0; j <= k; j++) {
        const then = centred(present.map((i) => counted[i]?.get(times[j]!) ?? 0));
        const products = now.reduce((sum, value, i) => sum + value * then[i]!, 0);
        variance += ((j < k ? 2 : 1) * products) / (sizes[j]! * (present.length - 1));
      }
    }
    values.push(variance);
  }
  return values;
}

function centred(values: readonly number[]): readonly number[] {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.map((value) => value - mean);
}
