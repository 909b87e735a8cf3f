import { checkConfidence } from "../../estimation/weibullQuantity.ts";
import { findRoot, logGamma } from "../../numerics/index.ts";

export interface ConditionalOddsRatio {
  /** Null: infinite. */
  readonly value: number | null;
  readonly lower: number;
  /** Null: infinite. */
  readonly upper: number | null;
  readonly confidence: number;
  readonly method: "exact, conditional on the margins";
}

/**
 * Odds ratio of a 2 x 2 table [[a, b], [c, d]] from the law of `a` given all margins, with exact bounds.
 *
 * @returns   Null where the estimate or the upper bound is infinite; the whole line where a margin is 0.
 * Accuracy   Roots to 1e-13 on the logarithm.
 * Source     Fisher (1935); Cornfield (1956); Agresti (2013), Categorical Data Analysis, sections 3.5 and 16.6.4.
 */
export function conditionalOddsRatio(
  [[a = 0, b = 0] = [], [c = 0, d = 0] = []]: readonly (readonly number[])[],
  confidence: number,
): ConditionalOddsRatio {
  checkConfidence(confidence);
  const least = Math.max(0, a - d);
  const most = a + Math.min(b, c);
  const logWeights: number[] = [];
  for (let x = least; x <= most; x++) {
    logWeights.push(-[x, a + b - x, a + c - x, d - a + x].reduce((sum, cell) => sum + logGamma(cell + 1), 0));
  }
  /** Probabilities of least..most at the odds ratio e^u. */
  const lawAt = (u: number): number[] => {
    const logs = logWeights.map((weight, i) => weight + (least + i) * u);
    const top = Math.max(...logs);
    const terms = logs.map((value) => Math.exp(value - top));
    const total = terms.reduce((sum, term) => sum + term, 0);
    return terms.map((term) => term / total);
  };
  const meanAt = (u: number): number => lawAt(u).reduce((sum, p, i) => sum + p * (least + i), 0);
  const atMost = (u: number): number => lawAt(u).reduce((sum, p, i) => (least + i <= a ? sum + p : sum), 0);
  const atLeast = (u: number): number => lawAt(u).reduce((sum, p, i) => (least + i >= a ? sum + p : sum), 0);
  const solve = (f: (u: number) => number): number => {
    let reach = 1;
    while (f(-reach) * f(reach) > 0 && reach < 700) reach *= 2;
    return Math.exp(findRoot(f, -reach, reach, { tolerance: 1e-13 }));
  };
  const tail = 0.5 * (1 - confidence);
  const isFree = most > least;
  return {
    value: !isFree || a === most ? null : a === least ? 0 : solve((u) => meanAt(u) - a),
    lower: !isFree || a === least ? 0 : solve((u) => atLeast(u) - tail),
    upper: !isFree || a === most ? null : solve((u) => tail - atMost(u)),
    confidence,
    method: "exact, conditional on the margins",
  };
}

/** One-sided exact tests of the odds ratio 1: P(cell <= a) and P(cell >= a) given the margins. */
export function hypergeometricTails([[a = 0, b = 0] = [], [c = 0, d = 0] = []]: readonly (readonly number[])[]): {
  readonly less: number;
  readonly greater: number;
} {
  const logChoose = (n: number, k: number): number => logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1);
  const probability = (x: number): number =>
    Math.exp(logChoose(a + b, x) + logChoose(c + d, a + c - x) - logChoose(a + b + c + d, a + c));
  let less = 0;
  let greater = 0;
  for (let x = Math.max(0, a - d); x <= a + Math.min(b, c); x++) {
    const p = probability(x);
    if (x <= a) less += p;
    if (x >= a) greater += p;
  }
  return { less: Math.min(1, less), greater: Math.min(1, greater) };
}
