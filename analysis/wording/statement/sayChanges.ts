import type { StatementResult } from "../../statement/types.ts";
import { formatDate } from "../formatDate.ts";
import { formatEstimate } from "../formatEstimate.ts";
import { formatExact } from "../formatNumber.ts";
import { sentenceCase } from "../inWords.ts";
import { hoursText, sayShare } from "./figures.ts";
import { countsOtherwise, sayRestated } from "./sayRestated.ts";

/** What changed between two statements, in words: what was asked, what was counted, what it came to. Empty where nothing did. */
export function sayChanges(before: StatementResult, now: StatementResult): readonly string[] {
  if (before.contentHash === now.contentHash) return ["Nothing: the content is the same to the last digit."];
  const changes: string[] = [];
  const note = (what: string, was: string, is: string): void => {
    if (was !== is) changes.push(`${what}: ${was} before, ${is} now.`);
  };
  if (countsOtherwise(before, now))
    changes.push("What counts as a failure, or which hours count, is set otherwise: compare with care.");
  if (before.provenance.engineVersion !== now.provenance.engineVersion)
    note("Engine version", before.provenance.engineVersion, now.provenance.engineVersion);
  if (before.provenance.dataHash !== now.provenance.dataHash) changes.push("The records have changed.");
  note("Records used up to", formatDate(before.provenance.cutoff), formatDate(now.provenance.cutoff));
  note("Period", periodOf(before), periodOf(now));
  changes.push(...sayRestated(before, now));
  note("Runs", formatExact(before.population.runs), formatExact(now.population.runs));
  note("Hours", hoursText(before.population.hours), hoursText(now.population.hours));
  note("Runs that the tool ended", formatExact(before.toolFailures), formatExact(now.toolFailures));
  note("Their rate", formatEstimate(before.toolFailureRate), formatEstimate(now.toolFailureRate));
  note("Runs not ended by the tool", sayShare(before.failureFree.share), sayShare(now.failureFree.share));
  for (const mode of now.modes) {
    const was = before.modes.find(
      (one) => one.item === mode.item && one.mode === mode.mode && one.toolType === mode.toolType,
    );
    const name = sentenceCase(`${mode.toolType}, ${mode.item}, ${mode.mode}`);
    if (was) note(name, `${formatExact(was.failures)} found`, `${formatExact(mode.failures)} found`);
    else if (mode.failures > 0)
      changes.push(`${name}: not in the last statement, ${formatExact(mode.failures)} found now.`);
  }
  note("Corrective actions open", formatExact(openOf(before)), formatExact(openOf(now)));
  return changes.length === 0 ? ["Settings that change no count: see the method notes."] : changes;
}

const periodOf = ({ population: { from, to } }: StatementResult): string => `${formatDate(from)} to ${formatDate(to)}`;
const openOf = ({ actions }: StatementResult): number => actions.filter(({ state }) => state === "open").length;
