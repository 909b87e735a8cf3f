import type { PolicyRow, RedressIntervalResult } from "../study/decisionTypes.ts";
import type { Estimate } from "../study/types.ts";
import { formatHours, hoursNumber } from "./formatAge.ts";
import { formatConfidence } from "./formatEstimate.ts";
import { formatExact, formatNumber } from "./formatNumber.ts";
import { countOf, isCode, listOf } from "./inWords.ts";
import { sayHeat } from "./sayHeat.ts";

/** When to redress: the range, its risk, what it saves; or that no interval pays and what to fix instead. */
export function sayInterval(result: RedressIntervalResult): string {
  const answer = `${sayAdvice(result)}${sayCheapestWay(result)}`;
  return result.heat === null ? answer : `${sayHeat(result.heat)} ${answer}`;
}

/** A way is told where it is cheaper than today's practice by three errors of simulating and by this share. Common practice, no source. */
const WORTH_TELLING = 0.05;

/** The cheapest of the ways played run by run, where it is clearly cheaper than today's practice and not the advice already. */
function sayCheapestWay({ policies, verdict }: RedressIntervalResult): string {
  const [today, ...others] = policies;
  const cheapest = [...others].sort((a, b) => a.costAgainstFirst.value - b.costAgainstFirst.value)[0];
  if (today === undefined || cheapest === undefined) return "";
  if (verdict.pays === "yes" && cheapest.policy === "recommended interval") return "";
  const { value, error } = cheapest.costAgainstFirst;
  const saved = -value / today.cost.value;
  if (!(saved > WORTH_TELLING && -value > 3 * error)) return "";
  const assumed =
    cheapest.policy === "each item its own"
      ? ", with half of a planned redress taken as opening the tool (assumed)"
      : "";
  return ` Played run by run by the estimate alone, ${sayWay(cheapest)} costs ${formatNumber(100 * saved, 2)} % less than today's practice${assumed}.`;
}

function sayWay({ policy, intervalH, itemIntervals }: PolicyRow): string {
  switch (policy) {
    case "each item its own": {
      const timed = itemIntervals.flatMap(({ item, intervalH: own }) =>
        own === null ? [] : [`${item} ${formatHours(Math.round(own))}`],
      );
      return `renewing each item at an interval of its own (${timed.length === 0 ? "none pays" : listOf(timed)}${timed.length === itemIntervals.length || timed.length === 0 ? "" : ", the others when they fail or go along"})`;
    }
    case "only after failures":
      return "redressing only after failures";
    case "today's practice":
      return "today's practice";
    default:
      return `redressing before the run that would pass ${formatHours(Math.round(intervalH ?? 0))}`;
  }
}

function sayAdvice(result: RedressIntervalResult): string {
  const { recommended, verdict } = result;
  const what = subject(result);
  const evidence = evidenceOf(result);
  if (recommended === null || verdict.pays === "no")
    return `${noInterval(result, what)} ${evidence}${sayLimit(result)}`;
  const range = sayRange(recommended);
  if (verdict.pays === "not shown")
    return `That an interval pays for ${what} is not shown yet: it does in ${formatNumber(100 * verdict.payShare)} % of what the records allow.${sayAgainstToday(recommended)} Were an interval wanted, the estimate's cost is flat between ${range}, and ${sayChance(recommended.stoppedBefore)} would be stopped by a failure before ${hoursNumber(recommended.age)} h; the best interval may lie far from there. ${evidence}${sayLimit(result)}`;
  const open = saving(recommended.saving);
  return `Redress ${what} between ${range}: the cost is flat there, and ${sayChance(recommended.stoppedBefore)} would be stopped by a failure before ${hoursNumber(recommended.age)} h.${open}${sayAgainstToday(recommended)} ${evidence}${sayLimit(result)}`;
}

/** Share of the draws in which an interval must be cheaper than today's practice for a change to be advised. */
const SHOWN = 0.95;

/** What a change from today's practice is worth, or that it is not shown to be worth any. */
function sayAgainstToday({ againstToday }: NonNullable<RedressIntervalResult["recommended"]>): string {
  if (againstToday === null) return "";
  const { saving, cheaperShare } = againstToday;
  const percent = (share: number | null) => formatNumber(100 * (share ?? 0), 2);
  if (cheaperShare >= SHOWN)
    return ` Against redressing as now it saves ${percent(saving.value)} % (${percent(saving.lower)} to ${percent(saving.upper)} %, ${formatConfidence(saving.confidence)}).`;
  return ` By cost nothing asks for a change from today's practice: it saves ${percent(saving.lower)} to ${percent(saving.upper)} % against it.`;
}

/** "160 and 380 h", ends to ten hours. */
export function sayRange({
  flatFrom,
  flatTo,
}: Pick<NonNullable<RedressIntervalResult["recommended"]>, "flatFrom" | "flatTo">): string {
  return `${formatNumber(toTen(flatFrom))} and ${formatHours(toTen(flatTo))}`;
}

const toTen = (hours: number): number => (hours < 30 ? Math.round(hours) : Math.round(hours / 10) * 10);

function subject({ item, toolType, definition }: RedressIntervalResult): string {
  const { mode } = definition.scope;
  if (item === null) return `the ${toolType}`;
  const name = isCode(item) ? item : `the ${item}`;
  return mode === null ? name : `${name} for ${mode}`;
}

function noInterval({ verdict, runToFailure, currency }: RedressIntervalResult, what: string): string {
  const { because, fixFirst } = verdict;
  const instead =
    fixFirst === null
      ? ""
      : ` Fix ${fixFirst.mode} of ${fixFirst.item} at its root instead: it makes most of the cost.`;
  if (because === "nothing stops a job")
    return `No interval can be set by cost for ${what}: none of its modes stops a job, so waiting costs nothing more. Look at what is found in the shop.`;
  if (because === "a failure costs too little")
    return `No interval pays for ${what}: a failure costs no more than a planned redress.${instead}`;
  const rate =
    runToFailure.value === null
      ? ""
      : ` Planned redresses alone do not lower the cost of ${formatNumber(runToFailure.value)} ${currency ?? "planned redresses"} per 1,000 h.`;
  return `No interval pays for ${what}: the risk does not rise enough with hours.${rate}${instead}`;
}

function sayChance({ value, upper, confidence }: Estimate): string {
  return `${formatNumber(100 * (value ?? 0))} % (at most ${formatNumber(100 * (upper ?? 1))} %, ${formatConfidence((1 + confidence) / 2)})`;
}

function saving({ value, lower, upper, confidence }: Estimate): string {
  if (value === null || lower === null || upper === null) return "";
  return ` Against running until a failure it saves ${formatNumber(100 * value)} % of the cost (${formatNumber(100 * lower)}–${formatNumber(100 * upper)}, ${formatConfidence(confidence)}).`;
}

function evidenceOf({ modes }: RedressIntervalResult): string {
  const stopping = modes.filter(({ kind }) => kind !== "hidden");
  const failures = stopping.reduce((sum, one) => sum + one.failures, 0);
  const lives = modes.reduce((most, one) => Math.max(most, one.lives), 0);
  return `It rests on ${countOf(failures, "failure that stops a job", "failures that stop a job")} in ${formatExact(lives)} lives.`;
}

function sayLimit({ risk }: RedressIntervalResult): string {
  const { allowedChance, beforeRedress, oneSided } = risk;
  const allowed = `${formatNumber(100 * allowedChance)} % (${formatConfidence(oneSided)}, one-sided)`;
  if (beforeRedress.age === null)
    return ` Even a new build cannot be shown to stay under the allowed chance of ${allowed}.`;
  return beforeRedress.beyondGrid
    ? ` The chance of a stopped job stays under the allowed ${allowed} over all hours looked at.`
    : ` To keep the chance of a stopped job under ${allowed}, redress by ${formatHours(Math.floor(beforeRedress.age))}.`;
}

/** "To show a chance of at most 10 % in a 41 h run (95 %, one-sided): 29 runs with none stopped, 46 with at most one." */
export function sayDemonstration({
  allowedChance,
  oneSided,
  runHours,
  demonstration,
}: RedressIntervalResult["risk"]): string {
  const plans = demonstration.map(({ failures, runs }, index) => {
    const stopped = failures === 0 ? "none" : `at most ${formatNumber(failures)}`;
    return `${index === 0 ? countOf(runs, "run") : formatNumber(runs)} with ${stopped} stopped`;
  });
  return `To show by runs alone a chance of at most ${formatNumber(100 * allowedChance)} % in a ${formatHours(runHours)} run (${formatConfidence(oneSided)}, one-sided): ${plans.join(", or ")}.`;
}
