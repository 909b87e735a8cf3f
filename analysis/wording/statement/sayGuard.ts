import type { GuardFinding, GuardNumber, MisleadingPractice } from "../../statement/guard/types.ts";
import { formatHours } from "../formatAge.ts";
import { formatDate } from "../formatDate.ts";
import { formatExact, formatNumber } from "../formatNumber.ts";
import { countOf, sentenceCase } from "../inWords.ts";
import { formatP } from "./figures.ts";
import { sayGroup } from "./sayGroup.ts";

/** What would mislead, in a few words. */
export const practiceNames: Readonly<Record<MisleadingPractice, string>> = {
  "mean time over mixed modes": "one mean time over several modes",
  "survivors left out": "survivors left out",
  "points compared without bounds": "points compared without bounds",
  "only tools that came back": "only tools that were looked at",
  "definition changed": "failure definition changed on the way",
  "unlike tools pooled": "unlike tools, muds or customers in one number",
  "kinds of hours mixed": "kinds of hours mixed",
  "calendar instead of exposure": "months instead of hours run",
  "window picked": "window that leaves out worse history",
  "beyond experience": "claims beyond the longest life",
  "best of many": "the best of many comparisons",
  "planned redress of failed tools": "failed items credited as planned redress",
  "nothing found left out": "failures with nothing found left out",
  "mean time read as a life": "mean time read as a life every item reaches",
  "worst stretch chosen": "a change made after the worst stretch",
};

/** A number of the guard with its unit. */
export function sayGuardNumber({ value, unit }: GuardNumber): string {
  if (value === null) return "not known";
  switch (unit) {
    case "per 1,000 h":
      return `${formatNumber(value)} per 1,000 h`;
    case "h":
      return formatHours(value);
    case "%":
      return `${formatNumber(value)} %`;
    case "a month":
      return `${formatNumber(value)} a month`;
    case "times":
      return `${formatNumber(value)} times`;
    case "failures":
      return countOf(value, "failure");
    case "p":
      return `p ${formatP(value)}`;
  }
}

/** The number that is used instead, with its bounds where they are what makes the difference. */
export function sayHonestNumber({ honest, facts: { lower, upper } }: GuardFinding): string {
  if (lower === undefined) return sayGuardNumber(honest);
  return `${sayGuardNumber(honest)} (${formatNumber(Number(lower))}–${upper === undefined ? "unbounded" : formatNumber(Number(upper))})`;
}

/** One finding of the guard: what would mislead, with the number both ways, and what was done about it. */
export function sayGuard(finding: GuardFinding): string {
  return sentences[finding.practice](finding, sayGuardNumber(finding.misleading), sayHonestNumber(finding));
}

const fact = ({ facts }: GuardFinding, name: string): string => String(facts[name] ?? "");
const count = ({ facts }: GuardFinding, name: string): number => Number(facts[name] ?? 0);
const itemMode = (finding: GuardFinding): string => `${fact(finding, "item")}, ${fact(finding, "mode")}`;

const sentences: Readonly<
  Record<MisleadingPractice, (finding: GuardFinding, misleading: string, honest: string) => string>
> = {
  "mean time over mixed modes": (finding, misleading, honest) =>
    `A mean time between failures was asked for. Over all ${countOf(count(finding, "modes"), "mode")} together it would be ${misleading}, a number that no item has; rates by mode are given instead (${itemMode(finding)}: ${honest}). ${sentenceCase(countOf(count(finding, "unsaid"), "mode does", "modes do"))} not carry a mean time.`,
  "survivors left out": (finding, misleading) =>
    `Every one of ${countOf(count(finding, "failed"), "life", "lives")} in these records ended in failure: items that came back good were not written down. The failed ones alone average ${misleading} (${itemMode(finding)}); how long all of them last is not known, and is longer.`,
  "points compared without bounds": (finding, misleading, honest) =>
    `${sentenceCase(fact(finding, "what"))}: the points alone say ${misleading} the rate before. With bounds it is ${honest}, which includes no change, so no difference is claimed.`,
  "only tools that came back": (finding, misleading, honest) =>
    `${formatExact(count(finding, "notLookedAt"))} of ${countOf(count(finding, "runs"), "run")} (${formatExact(count(finding, "hours"))} h) were not followed by an inspection. Over inspected runs alone the tool ended ${misleading}, over all runs ${honest}; the second is used. What hides in the tools not inspected is not known.`,
  "definition changed": (_finding, misleading, honest) =>
    `The failure definition differs from the last statement. The same records give ${misleading} by the present one and ${honest} by the last one. Compare statements only by one definition.`,
  "unlike tools pooled": (finding, misleading, honest) =>
    `Rates differ by ${fact(finding, "by")} (p ${formatP(count(finding, "p"))}): ${misleading} over all, ${honest} for ${sayGroup(fact(finding, "by"), fact(finding, "highest"))}, ${formatNumber(count(finding, "lowestRate"))} for ${sayGroup(fact(finding, "by"), fact(finding, "lowest"))}. The table by group stands under "Is it one population?".`,
  "kinds of hours mixed": (finding, misleading) =>
    `Hours are written in more than one kind. The clock is ${fact(finding, "clock")} hours; runs written in others count with hours estimated from their dates: ${fact(finding, "others")}. The rate of ${misleading} rests on those estimates, and on one kind alone it is not known.`,
  "calendar instead of exposure": (finding, misleading, honest) =>
    `Failures a month were asked for: ${misleading} over ${countOf(count(finding, "months"), "month")}. That moves with how much the tools ran; per hours run it is ${honest}, and only that is used.`,
  "window picked": (finding, misleading, honest) =>
    fact(finding, "about") === "after"
      ? `${sentenceCase(countOf(count(finding, "failures"), "failure"))} in ${formatExact(count(finding, "hours"))} h fell between the change and the first day counted as after it. Without them the rate is ${misleading} the rate before, with them ${honest}.`
      : `The period leaves out worse history: ${misleading} within it, ${honest} over all ${formatExact(count(finding, "hours"))} h since ${formatDate(fact(finding, "from"))}. Both are given.`,
  "beyond experience": (finding, misleading, honest) =>
    `The run length of ${formatHours(count(finding, "age"))} lies beyond every life of ${countOf(count(finding, "modes"), "mode")}. For ${itemMode(finding)} a fitted line would say ${misleading}; none was followed beyond ${honest}, so nothing is claimed there.`,
  "best of many": (finding, misleading, honest) =>
    `${sentenceCase(fact(finding, "what"))} looks changed (${misleading}), but it is the best of ${countOf(count(finding, "comparisons"), "comparison")}; allowing for them it is ${honest}, and no change is claimed.`,
  "planned redress of failed tools": (finding, misleading, honest) =>
    `${sentenceCase(countOf(count(finding, "found"), "item was", "items were"))} found failed on tools that came in as planned. Counted by the reason for coming in there would be ${misleading}; counted by condition, as here, ${honest}.`,
  "nothing found left out": (finding, misleading, honest) =>
    `${sentenceCase(countOf(count(finding, "runs"), "run"))} ended for a tool failure of which the teardown found nothing. Without them the rate would be ${misleading}; they are kept: ${honest}.`,
  "mean time read as a life": (finding, misleading, honest) =>
    `The mean time of ${misleading} (${itemMode(finding)}) is not a life that every item reaches: at that age ${honest} are still good, by ${fact(finding, "from")}.`,
  "worst stretch chosen": (finding, misleading, honest) =>
    `The stretch before the change was the worst of ${formatExact(count(finding, "stretches"))} of its length. Against it the rate after is ${misleading}, against all history before ${honest}: after the worst stretch the next is better by itself, and these records cannot tell that from an effect.`,
};
