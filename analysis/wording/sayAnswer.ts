import type { Estimate, ItemLifeResult, StudyResult, ToolHistoryResult, WhatFailsResult } from "../study/types.ts";
import { formatAge, formatHours } from "./formatAge.ts";
import { formatDate } from "./formatDate.ts";
import { formatConfidence, formatEstimate } from "./formatEstimate.ts";
import { formatExact, formatNumber } from "./formatNumber.ts";
import { formatPercent } from "./formatPercent.ts";
import { formatSize } from "./formatSize.ts";
import { countOf, isCode, listOf, pluralOf, sentenceCase } from "./inWords.ts";
import { sayFleet } from "./sayFleet.ts";
import { sayInterval } from "./sayInterval.ts";
import { sayLaw } from "./sayLaws.ts";
import { sayBuildPractice } from "./sayPractice.ts";

/** The answer of a result in one to three short sentences, with number, bounds and count; or what is missing to answer. */
export function sayAnswer(result: StudyResult): string {
  switch (result.kind) {
    case "item life":
      return sayItemLife(result);
    case "what fails":
      return sayWhatFails(result);
    case "tool history":
      return sayToolHistory(result);
    case "fleet":
      return sayFleet(result);
    case "redress interval":
      return sayInterval(result);
    case "build practice":
      return sayBuildPractice(result);
  }
}

function sayItemLife(result: ItemLifeResult): string {
  return `${sayLife(result)}${sayDelay(result)}`;
}

/** How long a defect takes to become the failure it leads to. */
function sayDelay({ mode, linked }: ItemLifeResult): string {
  if (linked?.delay == null || mode !== linked.defect) return "";
  return ` Once it has come, half go on to ${linked.failure} within ${formatEstimate(linked.delay.median)}.`;
}

function sayLife({ item, mode, counts, readings, longestAge, fit, definition, shapeTaken }: ItemLifeResult): string {
  const { median, b10, reliability, statedAge } = readings;
  if (counts.lives === 0) {
    const waiting =
      counts.noInformation > 0
        ? ` ${countOf(counts.noInformation, "history is", "histories are")} still without an inspection: a teardown that covers ${item} would begin to answer.`
        : " Bring the records that hold its builds, runs and teardowns, or widen the scope.";
    return `Nothing is known yet of how long ${isCode(item) ? item : `the ${item}`} lasts before ${mode}.${waiting}`;
  }
  if (counts.failures === 0) {
    const least =
      b10.lower !== null
        ? ` At least nine in ten last ${formatHours(b10.lower)} (${formatConfidence(b10.confidence)})${sayShape(shapeTaken)}.`
        : reliability.lower !== null
          ? ` At ${formatHours(statedAge)} at least ${formatNumber(reliability.lower)} of them are still good (${formatConfidence(reliability.confidence)}).`
          : "";
    return `No ${item} failed by ${mode}: no failures among ${followed(counts.lives)}, the longest for ${formatHours(longestAge)}.${least} Only failures, or more hours, would tell how long they last.`;
  }
  const evidence = `${countOf(counts.failures, "failure")} among ${followed(counts.lives)}`;
  const law =
    fit === null || fit.distribution === "weibull" ? sayShape(shapeTaken) : `, by the ${sayLaw[fit.distribution]} law`;
  const halfKnown = median.value !== null && median.value <= longestAge;
  if (halfKnown) return `${partOf("Half", item)} last ${formatEstimate(median)} before ${mode}${law}: ${evidence}.`;
  if (b10.value !== null) {
    const rest =
      median.value === null
        ? "The age by which half have failed is not reached in these records."
        : `Half would last ${formatEstimate(median)}, but that is beyond experience: none was followed longer than ${formatHours(longestAge)}.`;
    return `${partOf("One in ten", item)} has failed by ${mode} at ${formatEstimate(b10)}${law}: ${evidence}. ${rest}`;
  }
  const chosen = definition.law ?? "weibull";
  if (chosen !== "weibull")
    return `How long ${isCode(item) ? `${item} lasts` : `the ${pluralOf(item)} last`} before ${mode} cannot be told by the ${sayLaw[chosen]} law: ${evidence}, the longest followed for ${formatHours(longestAge)}. Another law may tell.`;
  const share =
    reliability.value === null
      ? ""
      : ` At ${formatHours(statedAge)} ${formatShare(reliability)} were still good, whatever the shape between 0.5 and 4.`;
  return `How long ${isCode(item) ? `${item} lasts` : `the ${pluralOf(item)} last`} before ${mode} cannot be told yet: ${evidence}, the longest followed for ${formatHours(longestAge)}.${share} ${
    counts.failures === 1 ? "A second failure at another age" : "More failures at different ages"
  } would tell.`;
}

/** What was taken of the shape, within the sentence. */
function sayShape(taken: ItemLifeResult["shapeTaken"]): string {
  if (taken === null) return "";
  if (taken.kind === "fixed") return `, with a shape of ${formatNumber(taken.low)} taken for granted`;
  return `, with a shape ${taken.kind === "pooled" ? "lent by the other modes, " : "believed "}between ${formatNumber(taken.low)} and ${formatNumber(taken.high)}`;
}

/** A fraction in per cent with its bounds: "95.1 % (93.1–96.7, 90 %)". */
function formatShare({ value, lower, upper, confidence, sides }: Estimate): string {
  const percent = (share: number | null) => formatPercent(share ?? 0);
  const bounds = sides === "lower" ? `at least ${percent(lower)}` : `${percent(lower)}–${percent(upper ?? 1)}`;
  return `${percent(value)} % (${bounds}, ${formatConfidence(confidence)})`;
}

const followed = (lives: number): string => `${formatExact(lives)} followed`;

function partOf(part: string, item: string): string {
  return isCode(item) ? `${part} of the lives of ${item}` : `${part} of the ${pluralOf(item)}`;
}

function sayWhatFails({ modes, runs, tools, toolFailures, toolFailureRate, hours }: WhatFailsResult): string {
  if (runs === 0)
    return "No run in this scope, so nothing can be said of what fails. Widen the scope, or bring the sheet that holds the runs.";
  const total = modes.reduce((sum, row) => sum + row.failures, 0);
  const pulled = `${toolFailures === 0 ? "None" : formatExact(toolFailures)} of ${countOf(runs, "run")} ended with a tool failure: ${formatEstimate(toolFailureRate)}.`;
  if (total === 0) {
    return `No failure found in ${countOf(runs, "run")} of ${countOf(tools, "tool")}, ${formatAge(hours.used)} used. ${pulled}`;
  }
  const [first, second] = [...modes].sort(
    (a, b) => b.failures - a.failures || (b.rate.value ?? 0) - (a.rate.value ?? 0),
  );
  if (first === undefined) return pulled;
  const lead = `The most frequent failure is ${first.item}, ${first.mode}: ${formatExact(first.failures)} of ${formatExact(total)} found, ${formatEstimate(first.rate)}.`;
  const unclear =
    second !== undefined && second.failures > 0 && overlap(first.rate, second.rate)
      ? ` No difference shown yet to ${second.item}, ${second.mode} (${formatExact(second.failures)}): the bounds of the rates overlap.`
      : "";
  return `${lead}${unclear} ${pulled}`;
}

function overlap(one: Estimate, other: Estimate): boolean {
  const low = (estimate: Estimate): number => estimate.lower ?? 0;
  const high = (estimate: Estimate): number => estimate.upper ?? Number.POSITIVE_INFINITY;
  return low(one) <= high(other) && low(other) <= high(one);
}

function sayToolHistory({ tool, runs, hours, failures, toolEvents, ages }: ToolHistoryResult): string {
  const size = tool.size_in === undefined || tool.size_in === null ? "" : `, ${formatSize(tool.size_in)},`;
  const status =
    tool.status === undefined || tool.status === null || tool.status === "not known"
      ? ""
      : ` ${sentenceCase(tool.status)}${tool.status_on === undefined || tool.status_on === null ? "" : ` since ${formatDate(tool.status_on)}`}.`;
  if (runs === 0)
    return `${tool.serial}${size} has no run in these records yet.${status} Its story begins with the first run that is written down.`;
  const events =
    toolEvents.length === 0
      ? ""
      : ` and ${countOf(toolEvents.length, "tool failure or loss", "tool failures or losses")}`;
  const failed = ages.filter((row) => row.state === "failed").map((row) => `${row.item}, ${row.mode}`);
  const now =
    failed.length === 0
      ? ""
      : ` Found failed and not restored yet: ${listOf(failed.slice(0, 3))}${failed.length > 3 ? ` and ${failed.length - 3} more` : ""}.`;
  return `${tool.serial}${size} has made ${countOf(runs, "run")}, ${formatAge(hours)}, with ${countOf(failures, "item failure")}${events}.${status}${now}`;
}
