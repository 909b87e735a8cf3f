import type { SinceComparison, SinceDecided, SinceRow } from "../study/sinceDecidedTypes.ts";
import type { Estimate } from "../study/types.ts";
import { formatHours, hoursNumber } from "./formatAge.ts";
import { formatDate } from "./formatDate.ts";
import { formatConfidence } from "./formatEstimate.ts";
import { formatNumber } from "./formatNumber.ts";
import { countOf, sentenceCase } from "./inWords.ts";

const verdicts = {
  fewer: "fewer",
  more: "more",
  "no difference shown": "no difference shown yet",
  "too little to tell": "too little to tell",
} as const;

/** What of a comparison a sentence is about. */
export type SinceMeasure = "asTheyCame" | "sameAge";

const measures: Readonly<Record<SinceMeasure, string>> = {
  asTheyCame: "as they came",
  sameAge: "at the same ages",
};

export const saySinceTitle = ({ decision }: SinceDecided): string =>
  `What came of the decision of ${formatDate(decision.datedOn)}`;

/** Failures before and since a decision, and what the bounds allow to say of them. */
export const saySince = (since: SinceDecided): string => `${saySinceVerdicts(since)} ${saySinceCounts(since)}`;

/** What is shown, of all modes together, as they came and at the same ages; or why nothing can be. */
export function saySinceVerdicts({ decision, state, cutoff, total }: SinceDecided): string {
  const on = formatDate(decision.datedOn);
  if (state === "nothing since")
    return `Nothing has run since the decision of ${on}: the records end on ${formatDate(cutoff)}.`;
  if (state === "nothing before")
    return `The records hold no hours from before the decision of ${on}, so there is nothing to compare with.`;
  if (tooLittle(total))
    return `Too little to tell yet: at the rate before, the hours since would have brought ${formatNumber(total.asTheyCame.expectedAfter, 2)} failures.`;
  return (["asTheyCame", "sameAge"] as const)
    .map((measure) => `${sentenceCase(measures[measure])}: ${verdicts[total[measure].verdict]}${per(total[measure])}.`)
    .join(" ");
}

const tooLittle = ({ asTheyCame, sameAge }: SinceRow): boolean =>
  asTheyCame.verdict === "too little to tell" && sameAge.verdict === "too little to tell";

/** What ran and failed on each side, and where the side before begins. */
export function saySinceCounts(since: SinceDecided): string {
  const { countedFrom, total, cutoff } = since;
  const { before, after } = total.asTheyCame;
  const counted = (side: SinceComparison["before"]) =>
    side.hours === 0 ? "nothing ran" : `${failures(since, side.failures)} in ${formatHours(side.hours)}`;
  const stretch =
    countedFrom === null ? "" : `, counted from ${formatDate(countedFrom)}, the date of the decision before`;
  return `Before: ${counted(before)}${stretch}. Since, to ${formatDate(cutoff)}: ${counted(after)}.`;
}

const failures = ({ counts }: SinceDecided, count: number): string =>
  counts === "stopped jobs"
    ? countOf(count, "failure that stops a job", "failures that stop a job")
    : countOf(count, "failure found in the shop", "failures found in the shop");

const per = ({ ratio }: SinceComparison): string =>
  ratio.method === "none" ? "" : `; the rate is ${saySinceRatio(ratio)} the rate before`;

/** "0.55 times (0.33–0.88, 90 %)", or what the bounds leave where one side has no failures. */
export function saySinceRatio({ value, lower, upper, confidence }: Estimate): string {
  const level = formatConfidence(confidence);
  const bound = (limit: number | null): string => (limit === null ? "unbounded" : formatNumber(limit));
  if (lower === null && upper === null) return "not known";
  if (value === null) return `at least ${bound(lower)} times (${level})`;
  if (value === 0) return `at most ${bound(upper)} times (${level})`;
  return `${formatNumber(value)} times (${bound(lower)}–${bound(upper)}, ${level})`;
}

export const saySinceVerdict = ({ verdict }: SinceComparison): string => verdicts[verdict];

/** "Main seal, leak"; null stands for all. */
export const saySinceName = ({ item, mode }: SinceRow): string =>
  item === null ? "All together" : sentenceCase(`${item}, ${mode ?? "any mode"}`);

/** What a mark of the picture says. */
export function saySinceMark(row: SinceRow, measure: SinceMeasure): string {
  const { before, after, ratio, verdict } = row[measure];
  const side = (one: SinceComparison["before"]) => `${countOf(one.failures, "failure")} in ${formatHours(one.hours)}`;
  return `${saySinceName(row)}, ${measures[measure]}: ${verdicts[verdict]}, ${saySinceRatio(ratio)} the rate before (${side(row.asTheyCame.before)} before, ${side(row.asTheyCame.after)} since${before.failures + after.failures === 0 ? "; none at ages run on both sides" : ""})`;
}

/** The finding above the picture. */
export function saySinceFinding({ total, modes }: SinceDecided): string {
  const shown = [
    ...(["asTheyCame", "sameAge"] as const).flatMap((measure) =>
      isShown(total[measure]) ? [`${verdicts[total[measure].verdict]} in all ${measures[measure]}`] : [],
    ),
    ...modes
      .filter(({ sameAge }) => isShown(sameAge))
      .map((row) => `${verdicts[row.sameAge.verdict]} for ${saySinceName(row)}`),
  ];
  return `Rate since over rate before: ${shown.length > 0 ? shown.join("; ") : tooLittle(total) ? "too little to tell yet" : "no difference shown yet"}`;
}

const isShown = ({ verdict }: SinceComparison): boolean => verdict === "fewer" || verdict === "more";

/** Whether tools fail alike, and what that does to the bounds of the same-age ratio of all modes. */
export function saySinceSpread({ total }: SinceDecided): string {
  const { spread, byTool, ratio } = total.sameAge;
  if (spread === null)
    return "Fewer than five tools ran, so it was not tested whether tools differ; the exact bounds take every failure for itself.";
  const test = `${formatNumber(spread.factor, 2)} times the scatter of chance between ${countOf(spread.tools, "tool")}, p ${formatNumber(spread.pValue, 2)}`;
  if (ratio.method === "none")
    return `Failures on tools show ${test}; there is no ratio whose bounds that could widen.`;
  if (byTool === null)
    return `That tools differ by more than chance is not shown (${test}), so the exact bounds stand.`;
  const { exact, inflation } = byTool;
  const alone = `every failure for itself would give ${formatNumber(exact.lower)}–${exact.upper === null ? "unbounded" : formatNumber(exact.upper)}`;
  return inflation > 1
    ? `Tools differ by more than chance (${test}): the exact bounds would be too narrow, so they are widened by tool (variance ${formatNumber(inflation, 2)} times; ${alone}).`
    : `Tools differ by more than chance (${test}), but the same tools ran before and since and that cancels in the ratio: bounds by tool are hardly wider (${alone}).`;
}

/** Whether the ages at the planned redresses moved; null where nothing planned tells it. */
export function saySinceKept({ planned: { before, after }, decision }: SinceDecided): string | null {
  if (after === null) return null;
  const half = (one: NonNullable<typeof after>) =>
    one.planned === 1
      ? `the one planned redress at ${formatHours(one.middle)}`
      : `half of ${countOf(one.planned, "planned redress", "planned redresses")} at ${hoursNumber(one.quarter)}–${hoursNumber(one.threeQuarters)} h (middle ${formatHours(one.middle)})`;
  const decided = decision.intervalH === null ? "" : `; decided: ${formatHours(decision.intervalH)}`;
  return before === null
    ? `Since: ${half(after)}${decided}.`
    : `Was it kept? Before: ${half(before)}. Since: ${half(after)}${decided}.`;
}

/** "50–100 h", "400 h and more". */
export const saySinceAge = ({ from, to }: SinceDecided["ages"][number]): string =>
  to === null ? `${formatNumber(from)} h and more` : `${formatNumber(from)}–${formatNumber(to)} h`;
