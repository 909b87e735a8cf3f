import { ownLooks, type Rule } from "../auditContext.ts";
import { dayNumber } from "../dayNumber.ts";
import { doubt } from "../doubt.ts";
import { failedFindings } from "../failedFindings.ts";
import { redressAfter } from "../redressAfter.ts";
import { runsBefore } from "../runsBefore.ts";

/** A report this long after the tool came in is late. Common practice, no source. */
const LATE_DAYS = 14;

/**
 * What the shop learned late: a run reported well after the tool came in, or an evident failure that no run reported and
 * only a teardown without a written reason shows. Where failures come in later than other runs, the newest months look
 * too good.
 *
 * Cannot tell  A report corrected later from one that came late.
 */
export const reportedLate: Rule = (context) =>
  [...context.stories.values()].flatMap((story) => [
    ...story.runs.flatMap(({ run, inDay }) => {
      const days = dayNumber(run.reported_on) - (inDay ?? Number.NaN);
      if (!(days > LATE_DAYS)) return [];
      return [
        doubt("failure reported late", "runs", run, "reported_on", {
          facts: {
            run: run.run,
            serial: run.serial,
            in_on: run.in_on ?? null,
            days,
            pulled_because: run.pulled_because,
          },
        }),
      ];
    }),
    ...ownLooks(context, story.looks).flatMap((look) => {
      const { teardown } = look;
      const runs = runsBefore(context, story, look);
      if (teardown.why !== "other" && teardown.why !== "not known") return [];
      if (redressAfter(story, look)?.reason === "planned") return [];
      if (runs.length === 0 || runs.some((run) => run.pulled_because === "tool failure")) return [];
      return failedFindings(context, teardown)
        .filter(({ mode }) => mode.announces === "evident")
        .map(({ finding }) =>
          doubt("failure reported late", "findings", finding, "condition", {
            facts: {
              teardown: teardown.teardown,
              serial: story.serial,
              on: teardown.done_on,
              item: finding.item,
              mode: finding.condition,
            },
          }),
        );
    }),
  ]);
