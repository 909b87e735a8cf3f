import { AnalysisError } from "../errors.ts";
import type { LifeSample } from "../estimation/types.ts";
import { chiSquareUpperTail } from "../numerics/index.ts";
import { riskTable } from "./riskTable.ts";
import { solveSymmetric } from "./solveSymmetric.ts";

export interface LogRankOptions {
  /** Group of each life, in the order of the sample. */
  readonly group: readonly string[];
  /** Compare only within these strata. */
  readonly stratum?: readonly string[];
  /** Weight S(t-)^rho: 0 log-rank; 1 stresses early failures (Peto & Peto's form of Gehan's test). */
  readonly rho?: number;
  /** Score of each group, for a test of trend over ordered groups. */
  readonly scores?: Readonly<Record<string, number>>;
}

export interface LogRankResult {
  readonly method: "log-rank family";
  readonly rho: number;
  /** Sorted by name. */
  readonly groups: readonly {
    readonly group: string;
    readonly lives: number;
    /** Weighted failures seen, and expected were the groups alike. */
    readonly observed: number;
    readonly expected: number;
  }[];
  /** Covariance of observed - expected, in the order of `groups`. */
  readonly variance: readonly (readonly number[])[];
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly pValue: number;
  readonly trend: {
    readonly statistic: number;
    readonly variance: number;
    readonly chiSquare: number;
    readonly pValue: number;
  } | null;
}

/**
 * Do groups last equally long? Observed against expected failures at each failure time, given who was at risk:
 *   z = sum w (O - E),  V = sum w^2 (hypergeometric covariance),  chi-square = z' V^- z on (groups - 1) degrees
 *   trend = (sum s z)^2 / s' V s on 1 degree
 *
 * @param sample  Exact and right-censored lives with late entry and counts.
 * Conventions    w = S(t-)^rho with S the pooled product-limit of the stratum. Observed, expected and variance carry the
 *                weights. Groups are sorted by name (code points).
 * Errors         "bad-setting" for fewer than two groups, a list of the wrong length or a missing score;
 *                "unsupported-censoring", "bad-life", "no-lives" as `productLimit`.
 * Source         Mantel (1966), Cancer Chemother. Rep. 50, 163-170; Harrington & Fleming (1982), Biometrika 69, 553-566;
 *                trend: Tarone (1975), Biometrika 62, 679-682.
 */
export function logRank(sample: LifeSample, { group, stratum, rho = 0, scores }: LogRankOptions): LogRankResult {
  const names = [...new Set(group)].sort();
  if (group.length !== sample.n) throw lengthError("group", group.length, sample.n);
  if (stratum !== undefined && stratum.length !== sample.n) throw lengthError("stratum", stratum.length, sample.n);
  if (names.length < 2)
    throw new AnalysisError("bad-setting", { setting: "group", value: names.length, allowed: "two groups or more" });

  const size = names.length;
  const lives = names.map((name) => totalCount(sample, indexesWhere(group, name)));
  const observed = new Array<number>(size).fill(0);
  const expected = new Array<number>(size).fill(0);
  const variance = names.map(() => new Array<number>(size).fill(0));
  const strata = stratum === undefined ? [undefined] : [...new Set(stratum)].sort();

  for (const name of strata) {
    const members = stratum === undefined || name === undefined ? undefined : indexesWhere(stratum, name);
    let survivalBefore = 1;
    for (const row of riskTable(sample, "log-rank", members === undefined ? {} : { members }).rows) {
      const { atRisk, failures, time } = row;
      const weight = survivalBefore ** rho;
      survivalBefore *= 1 - failures / atRisk;
      const atRiskOf = new Array<number>(size).fill(0);
      for (const i of members ?? sample.lower.keys()) {
        const entry = sample.entry[i] ?? 0;
        if ((entry === 0 || entry < time) && (sample.lower[i] ?? 0) >= time)
          add(atRiskOf, names.indexOf(group[i] ?? ""), sample.count[i] ?? 0);
      }
      for (const i of row.failed) add(observed, names.indexOf(group[i] ?? ""), weight * (sample.count[i] ?? 0));
      const spread = atRisk > 1 ? (weight * weight * failures * (atRisk - failures)) / (atRisk - 1) : 0;
      for (let j = 0; j < size; j += 1) {
        const share = (atRiskOf[j] ?? 0) / atRisk;
        add(expected, j, weight * failures * share);
        for (let k = 0; k < size; k += 1) {
          const other = (atRiskOf[k] ?? 0) / atRisk;
          add(variance[j] ?? [], k, spread * ((j === k ? share : 0) - share * other));
        }
      }
    }
  }

  const difference = observed.map((value, j) => value - (expected[j] ?? 0));
  const { quadraticForm, rank } = solveSymmetric(variance, difference);
  return {
    method: "log-rank family",
    rho,
    groups: names.map((name, j) => ({
      group: name,
      lives: lives[j] ?? 0,
      observed: observed[j] ?? 0,
      expected: expected[j] ?? 0,
    })),
    variance,
    chiSquare: quadraticForm,
    degreesOfFreedom: rank,
    pValue: rank > 0 ? chiSquareUpperTail(quadraticForm, rank) : 1,
    trend: scores === undefined ? null : trendTest(names, scores, difference, variance),
  };
}

function trendTest(
  names: readonly string[],
  scores: Readonly<Record<string, number>>,
  difference: readonly number[],
  variance: readonly (readonly number[])[],
): LogRankResult["trend"] {
  const score = names.map((name) => {
    const value = scores[name];
    if (value === undefined)
      throw new AnalysisError("bad-setting", { setting: `score of group ${name}`, value: null, allowed: "a number" });
    return value;
  });
  const statistic = score.reduce((sum, value, j) => sum + value * (difference[j] ?? 0), 0);
  let spread = 0;
  score.forEach((left, j) => {
    score.forEach((right, k) => {
      spread += left * right * (variance[j]?.[k] ?? 0);
    });
  });
  const chiSquare = spread > 0 ? (statistic * statistic) / spread : 0;
  return { statistic, variance: spread, chiSquare, pValue: spread > 0 ? chiSquareUpperTail(chiSquare, 1) : 1 };
}

function indexesWhere(labels: readonly string[], name: string): number[] {
  return labels.flatMap((label, i) => (label === name ? [i] : []));
}

function totalCount(sample: LifeSample, members: readonly number[]): number {
  return members.reduce((sum, i) => sum + (sample.count[i] ?? 0), 0);
}

function add(into: number[], at: number, value: number): void {
  into[at] = (into[at] ?? 0) + value;
}

function lengthError(setting: string, value: number, lives: number): AnalysisError {
  return new AnalysisError("bad-setting", { setting, value, allowed: `one entry a life (${lives})` });
}
