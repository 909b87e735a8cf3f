import { binomialCdf } from "../../../numerics/index.ts";
import type { Row } from "../../descriptor.ts";
import type { Rule } from "../auditContext.ts";
import { cameIn } from "../cameIn.ts";
import { doubt, refOf } from "../doubt.ts";
import { worstGrouping } from "../worstGrouping.ts";

/** More "other" than this is habit. trade practice; common practice, no source. */
const LIMIT = 0.15;
const MIN_ROWS = 20;
/** Chance alone, with "other" at half the limit, should not give so many in one group of a thousand shops. */
const LEVEL = 0.001;

/**
 * "Other" in more than 15 % of the written reasons for pulling, by crew or by customer, whichever shows it best; the
 * whole shop where nobody stands out. "Other" hides what a run ended for, failures included.
 *
 * One row a group: the earliest such run, the others beside it.
 *
 * Cannot tell  A job that truly is odd. Which of the runs was not "other" only the report can tell.
 */
export const otherTooOften: Rule = (context) => {
  const written = cameIn(context)
    .map(({ run }) => run)
    .filter((run) => run.pulled_because !== "not known");
  const isOther = (run: Row<"runs">) => run.pulled_because === "other";
  const judge = (runs: readonly Row<"runs">[]): number | null => {
    const others = runs.filter(isOther).length;
    if (runs.length < MIN_ROWS || others / runs.length <= LIMIT) return null;
    return 1 - binomialCdf(others - 1, runs.length, LIMIT / 2);
  };
  const ways = {
    crew: (run: Row<"runs">) => run.crew,
    customer: (run: Row<"runs">) => run.customer,
  };
  return worstGrouping(written, ways, judge, LEVEL).flatMap(({ by, name, rows }) => {
    const [first, ...rest] = rows.filter(isOther);
    if (first === undefined) return [];
    return [
      doubt("other too often", "runs", first, "pulled_because", {
        group: `${by}: ${name}`,
        others: rest.map((run) => refOf("runs", run)),
        facts: { by, name, others: rest.length + 1, runs: rows.length, limit: LIMIT },
      }),
    ];
  });
};
