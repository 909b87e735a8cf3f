import type { Rule } from "../auditContext.ts";
import { doubt } from "../doubt.ts";

/** A tool that came in this long ago and was neither torn down, redressed nor run again. Common practice, no source. */
const IDLE_DAYS = 60;

/**
 * Returned, not torn down: the last thing heard of a tool is that it came in, long before the records end. Either the
 * teardown is missing, or the tool lies on the shelf with what it knows; its hidden failures then never show.
 *
 * Cannot tell  A tool resting between jobs: then accept. One that came in shortly before the records end.
 */
export const notTornDown: Rule = ({ stories, latestDay }) =>
  [...stories.values()].flatMap(({ serial, tool, runs, looks, redresses }) => {
    if (tool?.status === "lost in hole" || tool?.status === "scrapped" || tool?.status === "out") return [];
    const last = runs.reduce<(typeof runs)[number] | undefined>(
      (latest, run) => ((run.inDay ?? Infinity) >= (latest?.inDay ?? -Infinity) ? run : latest),
      undefined,
    );
    if (last === undefined || last.inDay === null || last.run.pulled_because === "lost in hole") return [];
    const cameIn = last.inDay;
    const since = [...looks.filter(({ stripped }) => stripped), ...redresses].some(({ day }) => day >= cameIn);
    if (since || latestDay - cameIn <= IDLE_DAYS) return [];
    return [
      doubt("returned, not torn down", "runs", last.run, null, {
        facts: { run: last.run.run, serial, in_on: last.run.in_on ?? null, days: latestDay - cameIn },
      }),
    ];
  });
