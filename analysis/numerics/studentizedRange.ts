/// <reference path="./jstat.d.ts" />
import jstat from "jstat";
import { AnalysisError } from "../errors.ts";

/**
 * P(Q <= q) of the studentized range: the range of `groups` independent normal means over an independent estimate of
 * their standard deviation with `df` degrees of freedom.
 *
 * @param q       >= 0.
 * @param groups  >= 2, whole.
 * @param df      >= 2.
 * Errors    "bad-setting" outside these.
 * Accuracy  By the jstat package; 3e-11 relative over 24 reference points from R (tests/reference/special-functions.json).
 * Source    Copenhaver & Holland (1988), J. Statist. Comput. Simul. 30, 1-15, the algorithm it follows.
 */
export function studentizedRangeCdf(q: number, groups: number, df: number): number {
  if (!(q >= 0 && groups >= 2 && df >= 2))
    throw new AnalysisError("bad-setting", { setting: "studentized range", value: [q, groups, df].join(", ") });
  return q === 0 ? 0 : jstat.jStat.tukey.cdf(q, groups, df);
}
