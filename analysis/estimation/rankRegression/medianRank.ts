import { AnalysisError } from "../../errors.ts";
import { inverseBeta } from "../../numerics/index.ts";

/** `exact`: the beta median. `approximate`: (rank - 0.3) / (n + 0.4), good to about 0.01 where n is small. */
export type MedianRank = "exact" | "approximate";

/**
 * The fraction failed that the failure of this rank stands for: the median of the rank-th of n ordered uniform numbers, which
 * is a beta(rank, n + 1 - rank) quantile; fractional ranks the same.
 *
 * @param rank  1 <= rank <= n, adjusted ranks too.
 * Errors       "bad-setting" for a rank outside 1..n.
 * Source       Johnson (1951), Industrial Mathematics 2, 1-9; Benard & Bos-Levenbach (1953), Statistica Neerlandica 7,
 *              163-173, for the approximation (both from memory).
 */
export function medianRank(rank: number, lives: number, which: MedianRank = "exact"): number {
  if (which === "exact") return rankQuantile(rank, lives, 0.5);
  checkRank(rank, lives);
  return (rank - 0.3) / (lives + 0.4);
}

/**
 * The fraction failed below which the failure of this rank stands with the given probability: 0.05 and 0.95 bound the median
 * rank from both sides at 90 %.
 *
 * Errors  "bad-setting" for a rank outside 1..n or a probability outside (0, 1).
 */
export function rankQuantile(rank: number, lives: number, probability: number): number {
  checkRank(rank, lives);
  if (!(probability > 0 && probability < 1))
    throw new AnalysisError("bad-setting", { setting: "probability", value: String(probability) });
  return inverseBeta(rank, lives + 1 - rank, probability);
}

function checkRank(rank: number, lives: number): void {
  if (!(rank >= 1 && rank <= lives))
    throw new AnalysisError("bad-setting", { setting: "rank", value: String(rank), allowed: `1 to ${lives}` });
}
