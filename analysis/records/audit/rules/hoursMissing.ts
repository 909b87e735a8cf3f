import type { Rule } from "../auditContext.ts";
import { cameIn } from "../cameIn.ts";
import { doubt } from "../doubt.ts";

/**
 * A run that came in without hours. Its ages become ranges from 0 to 24 h a day, never 0 and never a mean.
 *
 * Source       trade practice, common, no source.
 * Cannot tell  What the hours were; only the report can.
 */
export const hoursMissing: Rule = (context) =>
  cameIn(context).flatMap(({ run, days }) =>
    run.hours == null
      ? [doubt("hours missing", "runs", run, "hours", { facts: { run: run.run, serial: run.serial, days } })]
      : [],
  );
