import type { Rule } from "../auditContext.ts";
import { doubt, refOf } from "../doubt.ts";
import { firstOfEachLater } from "../runPairs.ts";

/**
 * One run written as two reports: the second goes out in the same well, at the same depth where both are written, within
 * a day of the first coming in, with nothing done to the tool in between and hours that together fit the days. Ages do
 * not change, but runs are counted twice and the reason of the first part is no reason for pulling.
 *
 * Source       Common practice, no source.
 * Cannot tell  Two honest runs in one well with a short stop between them.
 */
export const splitRun: Rule = ({ pairs }) =>
  firstOfEachLater(pairs, "split run").map(({ earlier, later }) =>
    doubt("split run", "runs", later.run, null, {
      others: [refOf("runs", earlier.run)],
      facts: {
        run: later.run.run,
        serial: later.run.serial,
        first_part: earlier.run.run,
        well: later.run.well ?? null,
        hours: (earlier.run.hours ?? 0) + (later.run.hours ?? 0),
      },
    }),
  );
