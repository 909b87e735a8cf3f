/** Words for comparisons of build practice. "Goes with", never "causes"; a crew is a condition, not a culprit. */
import type { LifeMultiplier } from "../practice/screen/lifeMultiplier.ts";
import type { Verdict } from "../practice/screen/verdict.ts";
import type {
  BuildPracticeResult,
  PracticeComparison,
  PracticeDetail,
  PracticeGroup,
} from "../study/buildPractice/types.ts";
import { formatConfidence } from "./formatEstimate.ts";
import { formatExact, formatNumber } from "./formatNumber.ts";
import { countOf, isCode, listOf, pluralOf, sentenceCase } from "./inWords.ts";

type Compared = Pick<PracticeComparison, "practice" | "level" | "at" | "against" | "item" | "mode">;

const MILLIMETRES_AN_INCH = 25.4;

/** The one side of a comparison against the other: "made up at 0.9 of the design torque instead of 1". */
export function sayContrast({ practice, level, at, against }: Compared): string {
  const [one, other] = [at ?? 0, against ?? 0].map((value) => formatNumber(value)) as [string, string];
  switch (practice) {
    case "torque":
      return `made up at ${one} of the design torque instead of ${other}`;
    case "corrected torque":
      return `made up at ${one} of the design torque (corrected for the compound) instead of ${other}`;
    case "cycles on new threads":
      return `made up with ${timesOf(at)} on new threads instead of ${timesOf(against, true)}`;
    case "cycles on used threads":
      return `made up with ${timesOf(at)} on used threads instead of ${timesOf(against, true)}`;
    case "compound":
      return `made up with ${level} instead of another compound`;
    case "threadlocker":
      return level === "none"
        ? "made up without threadlocker instead of with it"
        : `made up with ${level} threadlocker instead of without`;
    case "shoulder treatment":
      return level === "none"
        ? "made up with a bare shoulder instead of a treated one"
        : `made up with ${level} on the shoulder instead of without`;
    case "torque tool":
      return `made up with torque tool ${level} instead of another`;
    case "days since calibration":
      return `made up ${one} days after the torque tool was calibrated instead of ${other}`;
    case "elastomer":
      return `of ${level} instead of another elastomer`;
    case "hardness":
      return `of ${one} Shore A instead of ${other}`;
    case "gap":
      return `with a gap of ${gapOf(at)} instead of ${gapOf(against)}`;
    case "cure age":
      return `fitted ${one} days after cure instead of ${other}`;
    case "backup ring":
      return level === "none"
        ? "without backup ring instead of with one"
        : `with backup ring ${level} instead of otherwise`;
  }
}

/** "no make-and-break", "1 make-and-break", "3 make-and-breaks"; `bare` leaves the noun to what was said before. */
function timesOf(count: number | null, bare = false): string {
  const times = Math.round(count ?? 0);
  const number = times === 0 ? "no" : formatExact(times);
  return bare ? (times === 0 ? "none" : number) : `${number} make-and-break${times > 1 ? "s" : ""}`;
}

const gapOf = (millimetres: number | null): string =>
  `${formatNumber(millimetres ?? 0)} mm (${formatNumber((millimetres ?? 0) / MILLIMETRES_AN_INCH, 2)} in)`;

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

/** What would settle a comparison. */
export function saySettling({ settling, choice }: PracticeDetail): string {
  if (settling === null) return "No failure yet, so nobody can say how many it takes.";
  const { multiplier, power, asNow, alternating } = settling;
  const goal = `To find a life cut to ${formatNumber(multiplier)} with a chance of ${formatNumber(power)}`;
  const now =
    asNow === null
      ? `${goal}, no number of runs will do while ${choice.practice} never varies on its own.`
      : asNow.more === 0
        ? `${goal}, the failures there are will do.`
        : `${goal}, going on as now takes ${countOf(asNow.more, "more failure")}, about ${countOf(asNow.runs, "run")}.`;
  return `${now} Where serials alternate it takes ${countOf(alternating.failures, "failure")}, about ${countOf(alternating.runs, "run")}.`;
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

/** The two sides of a comparison by name, for a plan: "0.9", "1"; "zinc paste", "another". */
export function saySides({ level, at, against, unit }: PracticeComparison): readonly [at: string, against: string] {
  if (at === null || against === null) return [level ?? "", level === "none" ? "with" : "without or another"];
  const of = unit === null ? "" : ` ${unit}`;
  return [`${formatNumber(at)}${of}`, `${formatNumber(against)}${of}`];
}

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
