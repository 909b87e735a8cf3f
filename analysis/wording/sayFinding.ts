/** What a picture shows, as its heading: the finding, not the name of the chart. */
import type { ItemLifeResult, ToolHistoryResult, WhatFailsResult } from "../study/types.ts";
import { comparePeriods } from "./comparePeriods.ts";
import { formatHours } from "./formatAge.ts";
import { formatDate } from "./formatDate.ts";
import { formatConfidence, formatEstimate } from "./formatEstimate.ts";
import { formatExact } from "./formatNumber.ts";
import { formatPercent } from "./formatPercent.ts";
import { countOf, isCode, sentenceCase } from "./inWords.ts";
import { sayLaw } from "./sayLaws.ts";

/** What a picture of an item's life shows. */
export function sayLifeFinding(
  result: ItemLifeResult,
  picture: "survival" | "probability" | "histories",
  name = `${sentenceCase(result.item)}, ${result.mode}`,
): string {
  const { counts } = result;
  if (picture === "survival") return `${name}: ${survivalFinding(result)}`;
  if (picture === "probability") return `${name}: ${probabilityFinding(result)}`;
  const ended = counts.failures === 0 ? "none has failed" : `${formatExact(counts.failures)} failed`;
  return `${name}: ${countOf(counts.lives, "life", "lives")} one by one, longest first; ${ended}`;
}

function survivalFinding({ readings: { b10, reliability, statedAge } }: ItemLifeResult): string {
  if (b10.value !== null) return `one in ten has failed by ${formatEstimate(b10)}`;
  if (reliability.value === null && reliability.lower !== null && reliability.lower > 0)
    return `at least ${formatPercent(reliability.lower)} % still good at ${formatHours(statedAge)} (${formatConfidence(reliability.confidence)})`;
  if (b10.lower !== null && b10.lower > 0) return `the age by which one in ten has failed is ${formatEstimate(b10)}`;
  return "share still good against hours";
}

function probabilityFinding({ fit, counts }: ItemLifeResult): string {
  if (counts.failures === 0) return "no failures yet, so no points";
  if (fit === null) return "the failures cannot tell a Weibull line yet";
  if (fit.distribution !== "weibull")
    return `the ${sayLaw[fit.distribution]} line beside the failures; a Weibull line would be straight here`;
  const { value, lower, upper } = fit.shape;
  const tells =
    lower !== null && lower > 1
      ? "wears out, the risk grows with hours"
      : upper !== null && upper < 1
        ? "fails early, the risk falls with hours"
        : "no change of risk with hours shown yet";
  return `${tells}; shape ${value === null ? "not known" : formatEstimate(fit.shape)}`;
}

/** What a picture of the fleet shows. */
export function sayFleetFinding(
  result: WhatFailsResult,
  picture: "rates" | "drawing" | "over time",
  nameOf = ({ item, mode }: WhatFailsResult["modes"][number]): string => `${sentenceCase(item)}, ${mode}`,
): string {
  if (picture === "drawing") return drawingFinding(result);
  if (picture === "over time") return overTimeFinding(result);
  const [first] = [...result.modes].sort((a, b) => (b.rate.value ?? -1) - (a.rate.value ?? -1));
  if (first === undefined) return "No failure mode in this scope";
  if (first.failures === 0) return "No failures in this scope; what is drawn are upper bounds";
  return `${nameOf(first)}: the highest rate, ${formatEstimate(first.rate)}`;
}

function drawingFinding({ drawing }: WhatFailsResult): string {
  const shade = "the stronger the shade, the more failures per 1,000 h";
  const followed = drawing
    .flatMap(({ toolType, items }) => items.map((item) => ({ toolType, ...item })))
    .filter((item) => item.shrunkenRate !== null);
  const [first] = followed
    .filter((item) => item.failures > 0)
    .sort((a, b) => (b.shrunkenRate ?? -1) - (a.shrunkenRate ?? -1));
  if (first === undefined) return `Where in the tool: no failures; ${shade}`;
  const of = drawing.length > 1 ? ` of the ${first.toolType}` : "";
  const name = `${isCode(first.item) ? first.item : `the ${first.item}`}${of}`;
  if (followed.length === 1) return `Where in the tool: ${name}`;
  return `Where in the tool: ${name} fails most for its hours; ${shade}`;
}

function overTimeFinding({ periods }: WhatFailsResult): string {
  const title = "Failures per 1,000 h by half-year";
  const compared = comparePeriods(periods);
  return compared === null ? title : `${title}: ${sayPeriods(compared)}`;
}

/** How the last period stands to the first. */
export const sayPeriods = ({ first, last, rather }: NonNullable<ReturnType<typeof comparePeriods>>): string =>
  rather === null
    ? `no difference shown yet between ${first.label} and ${last.label}`
    : `${rather} in ${last.label} than in ${first.label}`;

/** What the picture of one serial shows. */
export function sayHistoryFinding({ tool, events }: ToolHistoryResult): string {
  const [first, last] = [events[0], events[events.length - 1]];
  return first === undefined || last === undefined
    ? `${tool.serial}: nothing written down yet`
    : `${tool.serial} from ${formatDate(first.on)} to ${formatDate(last.on)}`;
}
