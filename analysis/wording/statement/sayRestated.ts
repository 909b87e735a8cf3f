import type { StatementResult } from "../../statement/types.ts";
import { contentHash } from "../../study/contentHash.ts";
import { countOf, listOf } from "../inWords.ts";
import { hoursText } from "./figures.ts";

type Period = StatementResult["periods"][number];

/** Whether another failure definition or another kind of hours decides what counts. */
export const countsOtherwise = (before: StatementResult, now: StatementResult): boolean =>
  differ(before, now, ({ definition: { thresholds, hoursKind } }) => [thresholds, hoursKind]);

/**
 * Numbers of a time that both statements cover and that are no longer what the last one said, and why they can differ.
 * Empty where every half-year in both stands as it stood.
 */
export function sayRestated(before: StatementResult, now: StatementResult): readonly string[] {
  const restated = now.periods.flatMap((period) => {
    const was = before.periods.find(({ label }) => label === period.label);
    if (was === undefined || !sameDays(was, period)) return [];
    const [then, today] = [countsOf(was), countsOf(period)];
    return then === today ? [] : [`${period.label}, restated: ${then} before, ${today} now.`];
  });
  if (restated.length === 0) return [];
  const reasons = reasonsFor(before, now);
  return [
    ...restated,
    `Restated because ${reasons.length === 0 ? "a setting is another" : listOf(reasons)}. What the last statement said of ${restated.length === 1 ? "that half-year" : "those half-years"} no longer holds.`,
  ];
}

const countsOf = ({ failures, hours }: Period): string =>
  `${countOf(failures, "item")} found failed in ${hoursText(hours)}`;

/** The same days: a half-year that was still running, or that one of the two cuts, is no restatement. */
const sameDays = (a: Period, b: Period): boolean => a.from === b.from && a.to === b.to;

function reasonsFor(before: StatementResult, now: StatementResult): readonly string[] {
  return [
    countsOtherwise(before, now) ? "what counts is set otherwise" : null,
    differ(before, now, ({ definition: { scope } }) => ({ ...scope, from: null, to: null }))
      ? "the scope is another"
      : null,
    differ(before, now, ({ provenance }) => provenance.engineVersion) ? "it was computed by another version" : null,
    differ(before, now, ({ provenance }) => provenance.dataHash)
      ? "records of that time came in late, were corrected, or were looked at only since"
      : null,
  ].filter((reason) => reason !== null);
}

const differ = (a: StatementResult, b: StatementResult, of: (one: StatementResult) => unknown): boolean =>
  contentHash(of(a)) !== contentHash(of(b));
