import type { Rule } from "../auditContext.ts";
import { dayNumber } from "../dayNumber.ts";
import { doubt, refOf } from "../doubt.ts";

/** Nothing heard of a tool that is out for longer than this. The derivation uses the same. Common practice, no source. */
const SILENT_DAYS = 30;

/**
 * Out but silent: a run with no date in, either long ago or of a tool seen in the shop since; or a tool whose status is
 * "out" with no run open and nothing heard since. Tools that are quietly gone make those that came back look better.
 *
 * Cannot tell  A long job still going on, or hours reported monthly: then accept until the next report.
 */
export const outButSilent: Rule = ({ stories, latestDay }) =>
  [...stories.values()].flatMap(({ serial, tool, runs, looks, redresses }) => {
    const open = runs.filter(({ inDay }) => inDay === null);
    const doubts = open.flatMap(({ run, outDay }) => {
      const seen =
        runs.find((other) => other.run !== run && other.outDay > outDay)?.run.out_on ??
        looks.find(({ day }) => day > outDay)?.teardown.done_on ??
        redresses.find(({ day }) => day > outDay)?.redress.done_on;
      const lost =
        run.pulled_because === "lost in hole" || tool?.status === "lost in hole" || tool?.status === "scrapped";
      if (seen === undefined && (lost || latestDay - outDay <= SILENT_DAYS)) return [];
      return [
        doubt("out but silent", "runs", run, "in_on", {
          facts: { run: run.run, serial, out_on: run.out_on, days: latestDay - outDay, seen_again_on: seen ?? null },
        }),
      ];
    });
    const last = Math.max(...runs.map(({ outDay, inDay }) => inDay ?? outDay), -Infinity);
    const statusDay = dayNumber(tool?.status_on);
    const since = Math.max(last, Number.isNaN(statusDay) ? -Infinity : Math.min(statusDay, latestDay));
    if (tool?.status === "out" && open.length === 0 && latestDay - last > SILENT_DAYS && since > -Infinity) {
      const run = runs.at(-1)?.run;
      doubts.push(
        doubt("out but silent", "tools", tool, "status", {
          others: run ? [refOf("runs", run)] : [],
          facts: {
            run: null,
            serial,
            out_on: null,
            days: latestDay - last === Infinity ? null : latestDay - last,
            seen_again_on: null,
          },
        }),
      );
    }
    return doubts;
  });
