import { AnalysisError } from "../../errors.ts";
import { checkConfidence } from "../../estimation/weibullQuantity.ts";
import { normalLogUpperTail, normalQuantile, studentCdf } from "../../numerics/index.ts";
import { finiteNumbers } from "./finiteNumbers.ts";
import { midRanks } from "./midRanks.ts";
import { kendallExactP, spearmanExactP } from "./rankCorrelationExact.ts";

export interface Correlation {
  readonly n: number;
  readonly hasTies: boolean;
  /** Straight-line: r, its t-test, and Fisher's z interval (null for n < 4). */
  readonly pearson: {
    readonly r: number;
    readonly pValue: number;
    readonly lower: number | null;
    readonly upper: number | null;
    readonly confidence: number;
  };
  /** Of the ranks: rho, S = (n^3 - n)(1 - rho)/6, p by t with n - 2 degrees, and exact for n < 10 without ties. */
  readonly spearman: {
    readonly rho: number;
    readonly s: number;
    readonly pValue: number;
    readonly exactP: number | null;
  };
  /** Concordant pairs: tau-b, normal p with the variance for ties, and exact for n < 50 without ties. */
  readonly kendall: {
    readonly tau: number;
    readonly z: number;
    readonly pValue: number;
    readonly exactP: number | null;
    /** Number of concordant pairs; null with ties. */
    readonly concordant: number | null;
  };
}

/**
 * Do two measures go together? Straight-line, rank and pair correlation, all two-sided.
 *
 * Errors   "bad-setting" for lists of unlike length, fewer than 3 pairs, or a list that does not vary.
 * Source   Pearson (1895); Fisher (1921); Spearman (1904); Kendall (1938; 1970, Rank Correlation Methods, chapters 3 and 4).
 */
export function correlation(
  x: readonly number[],
  y: readonly number[],
  { confidence = 0.9 }: { readonly confidence?: number } = {},
): Correlation {
  checkConfidence(confidence);
  finiteNumbers("x", x, 3);
  finiteNumbers("y", y, 3);
  if (x.length !== y.length) {
    throw new AnalysisError("bad-setting", {
      setting: "y",
      value: y.length,
      allowed: `as many values as x (${x.length})`,
    });
  }
  for (const [setting, values] of [["x", x] as const, ["y", y] as const]) {
    if (values.every((value) => value === values[0])) {
      throw new AnalysisError("bad-setting", { setting, value: values[0]!, allowed: "values that vary" });
    }
  }
  const n = x.length;
  const left = midRanks(x);
  const right = midRanks(y);
  const hasTies = left.tieSum > 0 || right.tieSum > 0;
  const r = productMoment(x, y);
  const rho = productMoment(left.ranks, right.ranks);
  const s = ((n ** 3 - n) * (1 - rho)) / 6;
  const width = n > 3 ? -normalQuantile(0.5 * (1 - confidence)) / Math.sqrt(n - 3) : null;
  return {
    n,
    hasTies,
    pearson: {
      r,
      pValue: studentP(r, n),
      lower: width === null ? null : Math.tanh(Math.atanh(r) - width),
      upper: width === null ? null : Math.tanh(Math.atanh(r) + width),
      confidence,
    },
    spearman: { rho, s, pValue: studentP(rho, n), exactP: hasTies || n >= 10 ? null : spearmanExactP(n, s) },
    kendall: kendall(x, y, hasTies),
  };
}

function productMoment(x: readonly number[], y: readonly number[]): number {
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [meanX, meanY] = [mean(x), mean(y)];
  let [xx, xy, yy] = [0, 0, 0];
  x.forEach((value, i) => {
    xx += (value - meanX) ** 2;
    yy += (y[i]! - meanY) ** 2;
    xy += (value - meanX) * (y[i]! - meanY);
  });
  return Math.max(-1, Math.min(1, xy / Math.sqrt(xx * yy)));
}

function studentP(r: number, n: number): number {
  return 2 * studentCdf(-Math.abs(r) * Math.sqrt((n - 2) / (1 - r * r)), n - 2);
}

function kendall(x: readonly number[], y: readonly number[], hasTies: boolean): Correlation["kendall"] {
  const n = x.length;
  let [balance, concordant, untiedX, untiedY] = [0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const [dx, dy] = [Math.sign(x[i]! - x[j]!), Math.sign(y[i]! - y[j]!)];
      balance += dx * dy;
      if (dx * dy > 0) concordant++;
      untiedX += dx * dx;
      untiedY += dy * dy;
    }
  }
  const [tx, ty] = [tieSums(x), tieSums(y)];
  const pairs = n * (n - 1);
  const variance =
    (pairs * (2 * n + 5) - tx.full - ty.full) / 18 +
    (tx.triples * ty.triples) / (9 * pairs * (n - 2)) +
    (tx.pairs * ty.pairs) / (2 * pairs);
  const z = balance / Math.sqrt(variance);
  return {
    tau: balance / Math.sqrt(untiedX * untiedY),
    z,
    pValue: Math.exp(Math.LN2 + normalLogUpperTail(Math.abs(z))),
    exactP: hasTies || n >= 50 ? null : kendallExactP(n, concordant),
    concordant: hasTies ? null : concordant,
  };
}

/** Over groups of t equal values: sums of t(t-1)(2t+5), t(t-1)(t-2), t(t-1). */
function tieSums(values: readonly number[]): {
  readonly full: number;
  readonly triples: number;
  readonly pairs: number;
} {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  let [full, triples, pairs] = [0, 0, 0];
  for (const t of counts.values()) {
    pairs += t * (t - 1);
    triples += t * (t - 1) * (t - 2);
    full += t * (t - 1) * (2 * t + 5);
  }
  return { full, triples, pairs };
}
