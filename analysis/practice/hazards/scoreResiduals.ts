import { type FollowUp, lastAt, stratumOfPositions } from "./followUp.ts";

/**
 * What each row adds to the score, counts included, in the order of the rows as given: rows x k, of the standardised columns.
 *   failed (x - mean) - integral of (x - mean(t)) risk dH(t) over the ages at which the row is at risk
 *
 * Source  Lin & Wei (1989), J. Amer. Statist. Assoc. 84, 1074-1078; Therneau & Grambsch (2000), section 4.6 and appendix on
 *         Efron's ties.
 */
export function scoreResiduals(follow: FollowUp): Float64Array {
  const { ordered, weights, bounds, mean, hazard, hazardMean, ownHazard, ownHazardMean, cumulative, cumulativeMean } =
    follow;
  const { columns: k, x, row, start, stop, failed, count } = ordered;
  const strata = stratumOfPositions(ordered);
  const residuals = new Float64Array(row.length * k);
  for (let i = 0; i < row.length; i++) {
    const s = strata[i]!;
    const first = bounds[s]!;
    const end = lastAt(follow, s, stop[i]!);
    const begin = lastAt(follow, s, start[i]!);
    const over = (sums: Float64Array, width: number, a: number): number =>
      (end >= first ? sums[end * width + a]! : 0) - (begin >= first ? sums[begin * width + a]! : 0);
    const dose = over(cumulative, 1, 0);
    const isFailed = failed[i] === 1;
    for (let a = 0; a < k; a++) {
      const value = x[i * k + a]!;
      let residual = -weights[i]! * (value * dose - over(cumulativeMean, k, a));
      if (isFailed) {
        residual += count[i]! * (value - mean[end * k + a]!);
        // At its own age a failure is at risk in its share of the sums only.
        const whole = value * hazard[end]! - hazardMean[end * k + a]!;
        const own = value * ownHazard[end]! - ownHazardMean[end * k + a]!;
        residual += weights[i]! * (whole - own);
      }
      residuals[row[i]! * k + a] = residual;
    }
  }
  return residuals;
}
