import type { Rule } from "../auditContext.ts";
import { oneALaterRun } from "../oneALaterRun.ts";

/**
 * Two runs of one serial whose dates overlap by more than the day they share, in the same well or with no well written:
 * neither a duplicate nor a split run. Both count towards the age, so hours may be counted twice.
 *
 * Source       trade practice of date checks; common practice, no source.
 * Cannot tell  Which of the two dates is wrong.
 */
export const runsOverlap: Rule = ({ pairs }) => oneALaterRun(pairs, "runs overlap");
