import { AnalysisError } from "../../errors.ts";
import type { LifeSample } from "../../estimation/types.ts";
import { isRanged } from "../../nonparametric/censoring.ts";

/** Lives of one tool, by what they add. Indexes are rows of the sample. */
export interface FrailtyCluster {
  readonly name: string;
  /** Failures at known ages, counts included. */
  readonly failures: number;
  readonly exact: readonly number[];
  /** Found failed between two ages. */
  readonly interval: readonly number[];
  readonly right: readonly number[];
  /** Entered in mid-life. */
  readonly late: readonly number[];
}

/**
 * Groups lives by tool, tools in the order of code points.
 *
 * Errors  "unsupported-censoring" for a life with an age known only as a range.
 */
export function frailtyClusters(sample: LifeSample, clusters: readonly string[]): FrailtyCluster[] {
  const groups = new Map<string, number[]>();
  clusters.forEach((name, i) => {
    if (isRanged(sample, i)) {
      throw new AnalysisError("unsupported-censoring", {
        method: "tool-to-tool spread",
        life: sample.ids?.[i] ?? String(i + 1),
        kind: "ranged",
      });
    }
    const group = groups.get(name);
    if (group) group.push(i);
    else groups.set(name, [i]);
  });
  return [...groups.keys()].sort().map((name) => {
    const rows = groups.get(name)!;
    const exact = rows.filter((i) => sample.lower[i] === sample.upper[i]);
    const right = rows.filter((i) => sample.upper[i] === Number.POSITIVE_INFINITY);
    return {
      name,
      failures: exact.reduce((sum, i) => sum + sample.count[i]!, 0),
      exact,
      right,
      interval: rows.filter((i) => sample.lower[i] !== sample.upper[i] && sample.upper[i] !== Number.POSITIVE_INFINITY),
      late: rows.filter((i) => sample.entry[i]! > 0),
    };
  });
}
