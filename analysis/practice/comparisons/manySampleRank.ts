import { AnalysisError } from "../../errors.ts";
import { chiSquareUpperTail, fUpperTail } from "../../numerics/index.ts";
import { finiteNumbers } from "./finiteNumbers.ts";
import { midRanks } from "./midRanks.ts";

export interface ManySampleRank {
  /** Corrected for ties. */
  readonly h: number;
  readonly degreesOfFreedom: number;
  readonly pValue: number;
  /** One-way analysis of variance of the values themselves; null where values do not vary within groups. */
  readonly variance: { readonly f: number; readonly pValue: number } | null;
}

/**
 * Does any group lie above the others?
 *   H = 12 / (N (N + 1)) sum n_j (mean rank_j - (N + 1)/2)^2, divided by 1 - sum (t^3 - t) / (N^3 - N)
 *
 * Errors   "bad-setting" for fewer than two groups, an empty one, or values that are all equal.
 * Source   Kruskal & Wallis (1952), J. Amer. Statist. Assoc. 47, 583-621.
 */
export function manySampleRank(groups: readonly (readonly number[])[]): ManySampleRank {
  groups.forEach((group, j) => {
    finiteNumbers(`group ${j + 1}`, group, 1);
  });
  const values = groups.flat();
  const total = values.length;
  const isVaried = values.some((value) => value !== values[0]);
  if (groups.length < 2 || !isVaried) {
    throw new AnalysisError("bad-setting", {
      setting: "groups",
      value: groups.length,
      allowed: "two or more, values that vary",
    });
  }
  const { ranks, tieSum } = midRanks(values);
  const degreesOfFreedom = groups.length - 1;
  const h = ((12 / (total * (total + 1))) * between(groups, ranks)) / (1 - tieSum / (total ** 3 - total));
  const left = total - groups.length;
  const apart = between(groups, values);
  const within = sum(values.map((value) => (value - sum(values) / total) ** 2)) - apart;
  const f = apart / degreesOfFreedom / (within / left);
  return {
    h,
    degreesOfFreedom,
    pValue: chiSquareUpperTail(h, degreesOfFreedom),
    variance: left > 0 && within > 0 ? { f, pValue: fUpperTail(f, degreesOfFreedom, left) } : null,
  };
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/** Sum over groups of n (mean - overall mean)^2 of `scores`, laid out as the groups one after the other. */
function between(groups: readonly (readonly number[])[], scores: readonly number[]): number {
  const overall = sum(scores) / scores.length;
  let from = 0;
  return sum(
    groups.map((group) => {
      const own = scores.slice(from, from + group.length);
      from += group.length;
      return group.length * (sum(own) / own.length - overall) ** 2;
    }),
  );
}
