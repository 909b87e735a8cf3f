import { chiSquareCdf, chiSquareUpperTail, normalCdf } from "../numerics/index.ts";
import { checkSystems } from "./checkSystems.ts";
import type { FollowedSystem } from "./types.ts";

/** Are failures coming closer together, or further apart? Every p-value is two-sided unless it says otherwise. */
export interface TrendTests {
  /** Failures used: without those that ended an observation. */
  readonly failures: number;
  /** Below 0: failures come early (improving); above 0: late (worsening). Null without usable failures. */
  readonly laplace: { readonly statistic: number; readonly pValue: number } | null;
  /** 2 sum ln(end / age). Large: improving. Degrees of freedom twice the failures. */
  readonly handbook: {
    readonly chiSquare: number;
    readonly degreesOfFreedom: number;
    readonly lowerTail: number;
    readonly upperTail: number;
    readonly pValue: number;
  } | null;
}

/**
 * Laplace's test and the handbook chi-square test of no trend, over one or more systems: given their number, failures of a
 * process of constant rate are uniform over each system's (0, end).
 *   U = sum (age - end/2) / sqrt(sum end^2 / 12),   chi-square = 2 sum ln(end / age)
 *
 * Source  Cox & Lewis (1966), The Statistical Analysis of Series of Events, 3.3; MIL-HDBK-189C (2011);
 *         NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.3.4.
 */
export function trendTests(systems: readonly FollowedSystem[]): TrendTests {
  let failures = 0;
  let distance = 0;
  let squares = 0;
  let logs = 0;
  for (const { usable, end } of checkSystems(systems)) {
    failures += usable.length;
    squares += (usable.length * end ** 2) / 12;
    for (const age of usable) {
      distance += age - end / 2;
      logs += Math.log(end / age);
    }
  }
  if (failures === 0) return { failures, laplace: null, handbook: null };
  const statistic = distance / Math.sqrt(squares);
  const degreesOfFreedom = 2 * failures;
  const lowerTail = chiSquareCdf(2 * logs, degreesOfFreedom);
  const upperTail = chiSquareUpperTail(2 * logs, degreesOfFreedom);
  return {
    failures,
    laplace: { statistic, pValue: 2 * normalCdf(-Math.abs(statistic)) },
    handbook: {
      chiSquare: 2 * logs,
      degreesOfFreedom,
      lowerTail,
      upperTail,
      pValue: Math.min(1, 2 * Math.min(lowerTail, upperTail)),
    },
  };
}
