import type { Rule } from "../auditContext.ts";
import { doubt } from "../doubt.ts";

/**
 * Why a run was pulled, a tool torn down or redressed is not written down. "Not known" is never read as "planned": a
 * failure may hide behind it.
 *
 * Source       Common practice, no source.
 * Cannot tell  What the reason was. A run still out has none yet and is not doubted.
 */
export const reasonNotWritten: Rule = ({ stories }) =>
  [...stories.values()].flatMap(({ serial, runs, looks, redresses }) => [
    ...runs
      .filter(({ run, inDay }) => inDay !== null && run.pulled_because === "not known")
      .map(({ run }) =>
        doubt("reason not written", "runs", run, "pulled_because", {
          facts: { run: run.run, serial, on: run.in_on ?? null },
        }),
      ),
    ...looks
      .filter(({ teardown }) => teardown.why === "not known")
      .map(({ teardown }) =>
        doubt("reason not written", "teardowns", teardown, "why", {
          facts: { teardown: teardown.teardown, serial, on: teardown.done_on },
        }),
      ),
    ...redresses
      .filter(({ redress }) => redress.reason === "not known")
      .map(({ redress }) =>
        doubt("reason not written", "redresses", redress, "reason", {
          facts: { redress: redress.redress, serial, on: redress.done_on },
        }),
      ),
  ]);
