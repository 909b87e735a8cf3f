import type { Rule } from "../auditContext.ts";
import { oneALaterRun } from "../oneALaterRun.ts";

/**
 * One serial out twice at a time: runs that overlap in different wells or on different rigs. One of them was made by
 * another tool, so hours are missing there and too many here.
 *
 * Source       Common practice, no source.
 * Cannot tell  Which run has the wrong serial, or whether a date is wrong instead.
 */
export const toolOutTwice: Rule = ({ pairs }) => oneALaterRun(pairs, "serial in two places");
