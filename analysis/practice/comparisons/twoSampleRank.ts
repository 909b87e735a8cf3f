import { AnalysisError } from "../../errors.ts";
import { checkConfidence } from "../../estimation/weibullQuantity.ts";
import { normalLogUpperTail, studentCdf } from "../../numerics/index.ts";
import { finiteNumbers } from "./finiteNumbers.ts";
import { midRanks } from "./midRanks.ts";

export interface TwoSampleRank {
  /** Number of pairs with x above y, ties counting half. */
  readonly w: number;
  readonly hasTies: boolean;
  readonly pNormal: number;
  /** With a continuity correction of one half. */
  readonly pNormalCorrected: number;
  /** Twice the smaller tail over all ways to draw the first sample; null with ties or where either sample has 50 or more. */
  readonly exactP: number | null;
  /** Median of all differences x - y. */
  readonly shift: number;
  /** Exact bounds of the shift; null where `exactP` is, or where the samples are too small for the confidence. */
  readonly lower: number | null;
  readonly upper: number | null;
  readonly confidence: number;
  /** Of the means, without assuming equal spreads; null where neither sample varies or one has a single value. */
  readonly welch: { readonly t: number; readonly degreesOfFreedom: number; readonly pValue: number } | null;
}

/**
 * Does one sample lie above the other?
 *
 * Errors   "bad-setting" for an empty sample, a value that is not finite, all values equal, or a confidence out of (0, 1).
 * Source   Wilcoxon (1945); Mann & Whitney (1947), Ann. Math. Statist. 18, 50-60; Hodges & Lehmann (1963), Ann. Math. Statist.
 *          34, 598-611; Welch (1947), Biometrika 34, 28-35.
 */
export function twoSampleRank(
  x: readonly number[],
  y: readonly number[],
  { confidence = 0.9 }: { readonly confidence?: number } = {},
): TwoSampleRank {
  checkConfidence(confidence);
  finiteNumbers("first sample", x, 1);
  finiteNumbers("second sample", y, 1);
  const [m, n] = [x.length, y.length];
  const { ranks, tieSum } = midRanks([...x, ...y]);
  const total = m + n;
  const variance = ((m * n) / 12) * (total + 1 - tieSum / (total * (total - 1)));
  if (!(variance > 0))
    throw new AnalysisError("bad-setting", { setting: "samples", value: x[0]!, allowed: "values that vary" });
  const w = ranks.slice(0, m).reduce((sum, rank) => sum + rank, 0) - (m * (m + 1)) / 2;
  const gap = w - (m * n) / 2;
  const p = (distance: number): number =>
    Math.min(1, Math.exp(Math.LN2 + normalLogUpperTail(Math.max(0, distance) / Math.sqrt(variance))));
  const differences = x.flatMap((a) => y.map((b) => a - b)).sort((a, b) => a - b);
  const law = tieSum === 0 && m < 50 && n < 50 ? lawOfW(m, n) : null;
  const skip = law ? outside(law, 0.5 * (1 - confidence)) : 0;
  return {
    w,
    hasTies: tieSum > 0,
    pNormal: p(Math.abs(gap)),
    pNormalCorrected: p(Math.abs(gap) - 0.5),
    exactP: law ? Math.min(1, 2 * Math.min(sum(law.slice(0, w + 1)), sum(law.slice(w)))) : null,
    shift: 0.5 * (differences[Math.floor((m * n - 1) / 2)]! + differences[Math.floor((m * n) / 2)]!),
    lower: skip > 0 ? differences[skip - 1]! : null,
    upper: skip > 0 ? differences[m * n - skip]! : null,
    confidence,
    welch: welch(x, y),
  };
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/** P(W = 0), ..., P(W = m n) when both samples are of one law without ties. */
function lawOfW(m: number, n: number): number[] {
  // Number of ways by the recurrence on the largest value (Mann & Whitney 1947, equation 1), as shares.
  let before: number[][] = Array.from({ length: n + 1 }, () => [1]);
  for (let i = 1; i <= m; i++) {
    const now: number[][] = [[1]];
    for (let j = 1; j <= n; j++) {
      const law = new Array<number>(i * j + 1).fill(0);
      const fromX = i / (i + j);
      before[j]!.forEach((share, k) => {
        law[k + j]! += fromX * share;
      });
      now[j - 1]!.forEach((share, k) => {
        law[k]! += (1 - fromX) * share;
      });
      now.push(law);
    }
    before = now;
  }
  return before[n]!;
}

/** How many differences to leave out at each end: the largest k with P(W <= k - 1) <= tail. */
function outside(law: readonly number[], tail: number): number {
  let below = 0;
  let k = 0;
  while (below + law[k]! <= tail) below += law[k++]!;
  return k;
}

function welch(x: readonly number[], y: readonly number[]): TwoSampleRank["welch"] {
  if (x.length < 2 || y.length < 2) return null;
  const moments = (values: readonly number[]): { readonly mean: number; readonly share: number } => {
    const mean = sum(values) / values.length;
    const squares = sum(values.map((value) => (value - mean) ** 2));
    return { mean, share: squares / (values.length - 1) / values.length };
  };
  const [a, b] = [moments(x), moments(y)];
  const variance = a.share + b.share;
  if (!(variance > 0)) return null;
  const t = (a.mean - b.mean) / Math.sqrt(variance);
  const degreesOfFreedom = variance ** 2 / (a.share ** 2 / (x.length - 1) + b.share ** 2 / (y.length - 1));
  return { t, degreesOfFreedom, pValue: 2 * studentCdf(-Math.abs(t), degreesOfFreedom) };
}
