import type { Rule } from "../auditContext.ts";
import { doubt, refOf } from "../doubt.ts";
import { firstOfEachLater } from "../runPairs.ts";

/**
 * The same run written twice: same dates and hours, or same well and hours with dates that overlap. The later number is
 * doubted and proposed for exclusion; the derivation leaves it out in any case and says so.
 *
 * Source       Common practice, no source.
 * Cannot tell  Two real runs with the same hours on the same dates; a tool makes one run at a time, so one of them then
 *              belongs to another serial.
 */
export const duplicateRun: Rule = ({ pairs }) =>
  firstOfEachLater(pairs, "duplicate run").map(({ earlier, later }) =>
    doubt("duplicate run", "runs", later.run, null, {
      others: [refOf("runs", earlier.run)],
      facts: {
        run: later.run.run,
        serial: later.run.serial,
        same_as: earlier.run.run,
        out_on: later.run.out_on,
        hours: later.run.hours ?? null,
      },
      proposes: "exclude",
    }),
  );
