import type { Rule } from "../auditContext.ts";
import { doubt, refOf } from "../doubt.ts";

/**
 * A teardown written under the wrong serial: its own tool was out that day, or had not run, or ran on without a redress,
 * or was torn down just before or after; and another of the same type and size came in and has no teardown. Where exactly
 * one such tool fits, its serial is proposed.
 *
 * Source       Common practice, no source.
 * Cannot tell  Two tools torn down at the same time and swapped with each other: both look complete.
 */
export const teardownOfAnother: Rule = ({ strays, findingsOf }) =>
  [...strays.values()].map(({ teardown, why, candidates }) => {
    const only = candidates.length === 1 ? candidates[0] : undefined;
    return doubt("teardown of another serial suspected", "teardowns", teardown, "serial", {
      others: [
        ...(findingsOf.get(teardown.teardown) ?? []).map((finding) => refOf("findings", finding)),
        ...candidates.flatMap(({ redress }) => (redress ? [refOf("redresses", redress)] : [])),
      ],
      facts: {
        teardown: teardown.teardown,
        serial: teardown.serial,
        on: teardown.done_on,
        oddity: why,
        candidates: candidates.length,
        other_serial: only?.serial ?? null,
      },
      proposes: only?.serial ?? null,
    });
  });
