import type { Rule } from "../auditContext.ts";
import { cameIn } from "../cameIn.ts";
import { doubt } from "../doubt.ts";

/** Out on three different dates or more. The derivation takes 0 hours of such a run as not written down. */
const LONG_DAYS = 3;

/**
 * "0" for a run of several days: more often "not known" than true.
 *
 * Source       Common practice, no source.
 * Cannot tell  A tool that truly went in the hole and did nothing, or stood on the rig: then accept.
 */
export const zeroHours: Rule = (context) =>
  cameIn(context).flatMap(({ run, days }) =>
    run.hours === 0 && days >= LONG_DAYS
      ? [doubt("zero hours of a long run", "runs", run, "hours", { facts: { run: run.run, serial: run.serial, days } })]
      : [],
  );
