import type { Rule } from "../auditContext.ts";
import { cameIn } from "../cameIn.ts";
import { doubt } from "../doubt.ts";

/**
 * More hours than the days allow, 24 h x (in - out + 1), or a tool that came in before it went out.
 *
 * Source       Arithmetic.
 * Cannot tell  Whether the hours or a date is wrong; often hours since new in a column of hours a run.
 */
export const hoursExceedDates: Rule = (context) =>
  cameIn(context).flatMap(({ run, days }) => {
    const facts = { run: run.run, serial: run.serial, hours: run.hours ?? null, days, most: 24 * Math.max(0, days) };
    if (days < 1) return [doubt("hours exceed dates", "runs", run, "in_on", { facts })];
    return (run.hours ?? 0) > 24 * days ? [doubt("hours exceed dates", "runs", run, "hours", { facts })] : [];
  });
