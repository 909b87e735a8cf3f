import { AnalysisError } from "../../errors.ts";
import { requireCensoring } from "../../nonparametric/censoring.ts";
import type { LifeSample } from "../types.ts";

export interface RankedFailure {
  readonly row: number;
  /** In the unit of the sample, > 0. */
  readonly age: number;
  /** 1 <= rank <= n; a whole number until a life before it ended unfailed. */
  readonly rank: number;
}

/**
 * Ranks of the failures among all lives, adjusted for those that ended unfailed before:
 *   rank = previous rank + (n + 1 - previous rank) / (1 + lives remaining, this one included)
 *
 * @param sample  Exact and right-censored lives followed from age 0; a count of k is k lives, k whole.
 * @returns       One entry a failure, ascending in age; none if nothing failed. `lives`: n.
 * Conventions    At equal ages failures come before lives that ended unfailed; equal failures keep separate ranks, in the
 *                order of the sample.
 * Errors         "unsupported-censoring" with the life for one between looks, with a ranged age or a late entry; "bad-life"
 *                for a failure at age 0 or a count that is not whole.
 * Source         Johnson (1964), The Statistical Treatment of Fatigue Experiments, ch. 4 (from memory).
 */
export function adjustedRanks(sample: LifeSample): { readonly lives: number; readonly failures: RankedFailure[] } {
  check(sample);
  const order = Array.from({ length: sample.n }, (_, row) => row);
  const failed = (row: number): boolean => sample.upper[row] !== Number.POSITIVE_INFINITY;
  order.sort((a, b) => sample.lower[a]! - sample.lower[b]! || Number(failed(b)) - Number(failed(a)) || a - b);
  const lives = order.reduce((sum, row) => sum + sample.count[row]!, 0);
  const failures: RankedFailure[] = [];
  let remaining = lives;
  let rank = 0;
  for (const row of order) {
    const count = sample.count[row]!;
    if (failed(row)) {
      for (let one = 0; one < count; one++) {
        rank += (lives + 1 - rank) / (1 + remaining - one);
        failures.push({ row, age: sample.lower[row]!, rank });
      }
    }
    remaining -= count;
  }
  return { lives, failures };
}

function check(sample: LifeSample): void {
  const method = "rank regression";
  requireCensoring(sample, method, ["exact", "right"]);
  for (let row = 0; row < sample.n; row++) {
    const id = sample.ids?.[row] ?? null;
    const refuse = (column: string, value: number, why: string): never => {
      throw new AnalysisError("bad-life", { row: row + 1, id, column, value: String(value), why });
    };
    if (sample.entry[row]! > 0)
      throw new AnalysisError("unsupported-censoring", { method, life: id ?? String(row + 1), kind: "late" });
    if (sample.upper[row] === 0) refuse("upper", 0, "failed at age 0");
    if (!Number.isInteger(sample.count[row])) refuse("count", sample.count[row]!, "not whole");
  }
}
