import type { ProportionalHazardsFound, ProportionalHazardsInput } from "../types.ts";
import { compileHazards, standardised } from "./compileHazards.ts";
import { followUp, lastAt, stratumOfPositions } from "./followUp.ts";

export interface HazardResiduals {
  /** Failed less expected to have failed, one a row as given, of one of its like rows. */
  readonly martingale: readonly number[];
  /** The same made symmetric. */
  readonly deviance: readonly number[];
  /** One a failing row, ages ascending within a stratum, then as given: x less its mean among those at risk, in the columns' units. */
  readonly schoenfeld: readonly {
    readonly row: number;
    readonly age: number;
    readonly residual: readonly number[];
    /** Residual times covariance times failures, plus the coefficients: a coefficient that changes with age shows as a trend. */
    readonly scaled: readonly number[];
  }[];
}

/**
 * @param fit   Fitted to the same `input`.
 * Source       Therneau & Grambsch (2000), Modeling Survival Data, chapters 4 to 6; Grambsch & Therneau (1994), Biometrika 81,
 *              515-526.
 */
export function hazardResiduals(fit: ProportionalHazardsFound, input: ProportionalHazardsInput): HazardResiduals {
  const { standard, ordered, surface } = compileHazards(input);
  const follow = followUp(ordered, surface.weights(standardised(fit.coefficients, standard)));
  const { row, start, stop, failed, count, columns: k, x } = ordered;
  const { bounds, cumulative, hazard, ownHazard, mean, weights } = follow;
  const strata = stratumOfPositions(ordered);
  const martingale = new Array<number>(row.length).fill(0);
  const schoenfeld: (HazardResiduals["schoenfeld"][number] & { readonly stratum: number })[] = [];
  for (let i = 0; i < row.length; i++) {
    const s = strata[i]!;
    const first = bounds[s]!;
    const end = lastAt(follow, s, stop[i]!);
    const begin = lastAt(follow, s, start[i]!);
    const dose = (end >= first ? cumulative[end]! : 0) - (begin >= first ? cumulative[begin]! : 0);
    const isFailed = failed[i] === 1;
    const own = isFailed ? ownHazard[end]! - hazard[end]! : 0;
    martingale[row[i]!] = (isFailed ? 1 : 0) - (weights[i]! / count[i]!) * (dose + own);
    if (!isFailed) continue;
    const residual = Array.from({ length: k }, (_, a) => (x[i * k + a]! - mean[end * k + a]!) * standard.ranges[a]!);
    const scaled = fit.coefficients.map(
      (b, a) => b + fit.failures * residual.reduce((sum, value, c) => sum + value * fit.covariance.matrix[a]![c]!, 0),
    );
    schoenfeld.push({ row: row[i]!, age: stop[i]!, residual, scaled, stratum: s });
  }
  schoenfeld.sort((a, b) => a.stratum - b.stratum || a.age - b.age || a.row - b.row);
  return {
    martingale,
    deviance: martingale.map((m, i) => {
      const status = input.rows.failed[i]!;
      const part = status === 1 ? Math.log(1 - m) : 0;
      return Math.sign(m) * Math.sqrt(Math.max(0, -2 * (m + status * part)));
    }),
    schoenfeld: schoenfeld.map(({ stratum: _, ...one }) => one),
  };
}
