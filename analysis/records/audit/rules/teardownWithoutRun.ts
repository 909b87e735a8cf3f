import { ownLooks, type Rule } from "../auditContext.ts";
import { doubt, refOf } from "../doubt.ts";

/**
 * A tool taken apart though no run came in since its last redress: runs are missing from the log, so ages are too low.
 *
 * Source       Common practice, no source.
 * Cannot tell  A tool opened on the shelf, after storage or for an upgrade: then accept. A first teardown with nothing
 *              before it is the tool's entry into the records and is not doubted; nor is one that follows a failed
 *              pressure test. Runs missing since a redress that no teardown followed yet cannot be noticed.
 */
export const teardownWithoutRun: Rule = (context) =>
  [...context.stories.values()].flatMap(({ serial, runs, looks, redresses }) =>
    ownLooks(context, looks).flatMap(({ teardown, day }) => {
      const built = redresses.filter((row) => row.day < day).at(-1);
      if (built === undefined || built.redress.pressure_test === "fail") return [];
      const ran = runs.some(({ outDay, inDay }) => outDay <= day && (inDay === null || inDay >= built.day));
      if (ran) return [];
      return [
        doubt("teardown without run", "teardowns", teardown, null, {
          others: [refOf("redresses", built.redress)],
          facts: { teardown: teardown.teardown, serial, on: teardown.done_on, built_on: built.redress.done_on },
        }),
      ];
    }),
  );
