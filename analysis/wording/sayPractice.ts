/** Words for comparisons of build practice. "Goes with", never "causes"; a crew is a condition, not a culprit. */
import type { LifeMultiplier } from "../practice/screen/lifeMultiplier.ts";
import type { Verdict } from "../practice/screen/verdict.ts";
import type {
  BuildPracticeResult,
  PracticeComparison,
  PracticeDetail,
  PracticeGroup,
  Settling,
} from "../study/buildPractice/types.ts";
import { formatConfidence } from "./formatEstimate.ts";
import { formatExact, formatNumber } from "./formatNumber.ts";
import { countOf, isCode, listOf, pluralOf, sentenceCase } from "./inWords.ts";
import { sayContrast } from "./sayContrast.ts";

/** The items of a comparison in the plural: "joints", "main seals", "J1". */
export const sayItems = (item: string): string => (isCode(item) ? item : pluralOf(item));

/** A multiplier is never better known than to two digits. */
export const formatTimes = (value: number): string => formatNumber(value, 2);

/** "0.58–0.84", "0.58–unbounded". */
export const sayTimesBounds = ({ lower, upper }: Pick<LifeMultiplier, "lower" | "upper">): string =>
  lower === null && upper === null
    ? "no bounds"
    : `${lower === null ? "0" : formatTimes(lower)}–${upper === null ? "unbounded" : formatTimes(upper)}`;

/** "0.71 times as long (0.58–0.84, 90 %)". */
export function sayMultiplier(multiplier: LifeMultiplier | null, allowing?: string): string {
  if (multiplier === null) return "for a time nobody can tell";
  const { value, confidence } = multiplier;
  return `${formatTimes(value)} times as long (${sayTimesBounds(multiplier)}, ${allowing ?? formatConfidence(confidence)})`;
}

export const verdictWords: Readonly<Record<Verdict, string>> = {
  "shorter life": "goes with shorter life",
  "longer life": "goes with longer life",
  "no difference shown yet": "no difference shown yet",
  "cannot tell": "cannot tell",
  "too few failures": "too few failures",
};

/** Bounds widened so that among all that are picked out, nine in ten hold (see `selectedConfidence`). */
const SELECTED = "bounds allowing for all that was compared";

/** One comparison in a sentence, with what stands behind it. */
export function sayPracticeComparison(comparison: PracticeComparison): string {
  const { item, mode, verdict, adjusted, selected, failures, lives } = comparison;
  const subject = `${sentenceCase(sayItems(item))} ${sayContrast(comparison)}`;
  const evidence = `${countOf(failures, "failure")} among ${countOf(lives, "life", "lives")}`;
  switch (verdict) {
    case "shorter life":
    case "longer life":
      return `${subject} last ${selected ? sayMultiplier(selected, SELECTED) : sayMultiplier(adjusted)} before ${mode}: ${evidence}.`;
    case "no difference shown yet":
      return `${subject}: no difference before ${mode} shown yet. They last ${sayMultiplier(adjusted)}: ${evidence}.`;
    case "too few failures":
      return `${subject}: ${countOf(failures, "failure")} by ${mode}, too few to compare.`;
    case "cannot tell":
      return `${subject}: cannot tell what it does before ${mode}. ${sayEntangled(comparison)}`;
  }
}

/** What a practice cannot be told apart from, or goes along with; empty where it varied freely. */
export function sayEntangled({ goesAlongWith, shareLeft, practice }: PracticeComparison): string {
  const [first] = goesAlongWith;
  if (first === undefined) return "";
  const share = formatNumber(100 * first.share, 2);
  const own = formatNumber(100 * shareLeft, 2);
  return `${sentenceCase(practice)} goes along with the ${first.what.toLowerCase()}: that alone accounts for ${share} % of how it varied, everything written together leaves ${own} %.`;
}

/** The answer of the view. */
export function sayBuildPractice(result: BuildPracticeResult): string {
  const { comparisons, tested, claims, failures, lives } = result;
  const first = comparisons[0];
  if (first === undefined)
    return "Nothing can be compared yet: no build in this scope writes down torque, threads, compound or rubber in more than one way. Bring the build sheets that do.";
  const unclear = comparisons.filter(({ verdict }) => verdict === "cannot tell");
  const more = unclear.length === 0 ? "" : ` ${sayUnclear(unclear)}`;
  if (claims === 0) {
    if (tested === 0)
      return `${countOf(failures, "failure")} among ${countOf(lives, "life", "lives")} are too few, or too much alike, to compare any practice.${more}`;
    return `No practice shows a difference yet: ${countOf(tested, "comparison")} over ${countOf(failures, "failure")} among ${countOf(lives, "life", "lives")}.${more}`;
  }
  const others =
    claims === 1
      ? ""
      : ` ${sentenceCase(formatExact(claims - 1))} more of ${formatExact(tested)} comparisons ${claims === 2 ? "stands" : "stand"} out.`;
  return `${sayPracticeComparison(first)} It goes with that; whether it is the cause only a trial can tell.${others}${more}`;
}

function sayUnclear(unclear: readonly PracticeComparison[]): string {
  const names = [...new Set(unclear.map(({ practice }) => practice))];
  const [first] = unclear;
  const because = first?.goesAlongWith[0];
  return `Of ${listOf(names)} nobody can tell${because === undefined ? "" : `: it went along with the ${because.what.toLowerCase()}`}.`;
}

/** What a picture of build practice shows, as its heading. */
export function sayPracticeFinding(result: BuildPracticeResult, picture: "ranked" | "curve" | "groups"): string {
  const { claims, tested, detail } = result;
  if (picture === "ranked")
    return claims === 0
      ? `How many times as long each lasts: none of ${formatExact(tested)} comparisons stands out`
      : `How many times as long each lasts: ${formatExact(claims)} of ${formatExact(tested)} comparisons ${claims === 1 ? "stands" : "stand"} out`;
  const comparison = detail && comparisonOf(result, detail);
  if (!comparison) return "Nothing is looked at closely";
  const name = `${sentenceCase(sayItems(comparison.item))}, ${comparison.mode}`;
  if (picture === "groups") return `${name}: share still good, by ${comparison.title.toLowerCase()}`;
  return `${name}: life against ${comparison.title.toLowerCase()}; ${sayBend(detail)}`;
}

const CLEARLY = 0.05;
function sayBend({ curve }: PracticeDetail): string {
  if (curve === null) return "the lives do not tell a line";
  const least = Math.min(...curve.value);
  const place = curve.value.indexOf(least);
  const ends = place > 2 && place < curve.value.length - 3;
  const best = curve.value.indexOf(Math.max(...curve.value));
  const isHump = best > 2 && best < curve.value.length - 3;
  if (curve.straightPValue >= CLEARLY) return "no bend shown yet";
  if (isHump) return `longest at ${formatNumber(curve.at[best] ?? 0)}, shorter with less and with more`;
  return ends ? `shortest at ${formatNumber(curve.at[place] ?? 0)}` : "bent, but never turning";
}

export function comparisonOf(result: BuildPracticeResult, { choice }: PracticeDetail): PracticeComparison | undefined {
  return result.comparisons.find(
    ({ practice, level, item, mode }) =>
      practice === choice.practice && level === choice.level && item === choice.item && mode === choice.mode,
  );
}

/** What would settle a comparison; asked for and null, nobody can say. */
export function saySettling(settling: Settling | null, { choice }: Pick<PracticeDetail, "choice">): string {
  if (settling === null) return "No law of these lives yet, so nobody can say how many it takes.";
  const { multiplier, power, shape, isShapeStated, powerNow, asNow, alternating } = settling;
  const goal = `To find a life ${multiplier < 1 ? "cut to" : "drawn out to"} ${formatTimes(multiplier)} with a chance of ${formatNumber(power)}`;
  const chance = `With the lives there are the chance is ${powerNow < 0.01 ? "below 0.01" : formatNumber(powerNow)}.`;
  const now =
    asNow === null
      ? `${goal}, no number of runs will do while ${choice.practice} never varies on its own.`
      : asNow.more === 0
        ? `${goal}, the failures there are will do.`
        : `${goal}, going on as now takes ${countOf(asNow.more, "more failure")}, about ${countOf(asNow.moreRuns, "more run")}.`;
  const trial =
    alternating === null
      ? ""
      : ` Where serials alternate it takes ${countOf(alternating.failures, "failure")}, about ${countOf(alternating.runs, "run")}.`;
  const rests = ` All of it rests on a Weibull shape of ${formatNumber(shape, 2)}, ${isShapeStated ? "as stated" : "as far as these records tell it"}.`;
  return `${now} ${chance}${trial}${rests}`;
}

const missingWords: Readonly<Record<string, string>> = {
  "not written": "not written",
  "written as text": "words instead of a number",
  "in doubt": "unit in doubt",
};

/** One group of lives by what was done, with its counts: "0.95 to 1.05: 42 failed of 730 lives on 60 serials". */
export function sayPracticeGroup(
  { name, from, to, isWritten, lives, failures, serials }: PracticeGroup,
  { unit }: Pick<PracticeComparison, "unit">,
): string {
  const of = unit === null ? "" : ` ${unit}`;
  const range =
    from === null && to === null
      ? isWritten
        ? name || "all"
        : (missingWords[name] ?? name)
      : from === null
        ? `below ${formatNumber(to ?? 0)}${of}`
        : to === null
          ? `${formatNumber(from)}${of} or more`
          : `${formatNumber(from)} to below ${formatNumber(to)}${of}`;
  return `${sentenceCase(range)}: ${failures === 0 ? "none" : formatExact(failures)} failed of ${countOf(lives, "life", "lives")} on ${countOf(serials, "serial")}`;
}

/** A multiplier in a table cell: "0.71 (0.58–0.84)". */
export const sayTimes = (multiplier: LifeMultiplier | null): string =>
  multiplier === null ? "not known" : `${formatTimes(multiplier.value)} (${sayTimesBounds(multiplier)})`;

/** Whether any lot is on watch, and how many serials still carry it. */
export function sayLots({ lots, lotsTested }: BuildPracticeResult): string {
  if (lotsTested === 0) return "No lot is written down for the items in this scope.";
  const watched = lots.filter(({ isOnWatch }) => isOnWatch);
  if (watched.length === 0)
    return `No lot stands out: ${countOf(lotsTested, "lot of an item and mode", "lots of an item and mode")} were tested against what lives as long would bring.`;
  const serials = new Set(watched.flatMap(({ carriedBy }) => carriedBy.map(({ serial }) => serial)));
  const names = [...new Set(watched.map(({ lot, item }) => `${lot} (${item})`))];
  const carried =
    serials.size === 0
      ? "No serial carries one any more."
      : `${countOf(serials.size, "serial")} still ${serials.size === 1 ? "carries" : "carry"} one.`;
  return `More failures than chance deals out in ${listOf(names)}, over ${formatExact(lotsTested)} lots tested. ${carried}`;
}
