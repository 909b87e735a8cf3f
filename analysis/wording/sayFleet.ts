import type { CountRange, FleetReading, FleetReason, FleetResult, FleetTool, LookedBack } from "../study/fleetTypes.ts";
import { formatAge, formatHours } from "./formatAge.ts";
import { formatDate } from "./formatDate.ts";
import { formatConfidence } from "./formatEstimate.ts";
import { formatNumber } from "./formatNumber.ts";
import { countOf, listOf, sentenceCase } from "./inWords.ts";

/** How the board stands, and, of those that could go out, the tool whose next run carries most. */
export function sayFleet({ tools, gone, allowedChance, oneSided }: FleetResult): string {
  if (tools.length === 0)
    return `No tool is on the board${gone > 0 ? `: ${countOf(gone, "tool")} in this scope ${gone === 1 ? "is" : "are"} lost or scrapped` : ""}. Widen the scope, or bring the sheet that lists the tools.`;
  const counts = (["redress due", "look first", "not enough known", "inside its limit"] as const).flatMap((reading) => {
    const count = tools.filter((tool) => tool.reading === reading).length;
    return count === 0 ? [] : [`${formatNumber(count)} ${boardWords[reading](count)}`];
  });
  const ready = tools.filter(({ reading }) => reading !== "redress due");
  if (ready.length === 0) return `Of ${countOf(tools.length, "tool")} ${listOf(counts)}.`;
  const worst = [...ready].sort((a, b) => (b.chance.upper ?? -1) - (a.chance.upper ?? -1))[0];
  const most =
    worst === undefined || worst.chance.value === null
      ? " No chance can be told for any of them yet."
      : `${ready.length < tools.length ? " Of those not due the next run of" : " The next run of"} ${worst.serial}, ${formatHours(worst.nextRun.hours)}, carries most: ${sayToolChance(worst, oneSided)}, against ${formatNumber(100 * allowedChance)} % allowed.`;
  return `Of ${countOf(tools.length, "tool")} ${listOf(counts)}.${most}`;
}

const boardWords: Readonly<Record<FleetReading, (count: number) => string>> = {
  "redress due": (count) => `${count === 1 ? "is" : "are"} due for a redress`,
  "look first": (count) => `${count === 1 ? "wants" : "want"} a look first`,
  "not enough known": () => "cannot be read, not enough is known",
  "inside its limit": (count) => `${count === 1 ? "is inside its limit" : "are inside their limit"}`,
};

/** "24.2 % (at most 29.8 %, 95 %)". */
export const sayToolChance = ({ chance }: Pick<FleetTool, "chance">, oneSided: number): string =>
  chance.value === null
    ? "not known"
    : `${formatNumber(100 * chance.value)} % (at most ${formatNumber(100 * (chance.upper ?? 1))} %, ${formatConfidence(oneSided)})`;

/** Why a tool reads as it does, in one sentence. */
export function sayFleetReason({ code, facts }: FleetReason): string {
  const hours = (name: string) => formatHours(typeof facts[name] === "number" ? facts[name] : null);
  const share = (name: string) => `${formatNumber(100 * Number(facts[name] ?? 0))} %`;
  switch (code) {
    case "found-failed":
      return `${sentenceCase(String(facts.item))}: ${facts.mode} found and not restored since.`;
    case "interval-reached":
      return `${hours("hours")} since the redress; the interval in force is ${hours("interval")}.`;
    case "no-hours-left":
      return `No run keeps the chance of a stopped job under ${share("allowed")}.`;
    case "records-late":
      return `Records late: last run not entered${facts.last_run === null ? "" : `; the last one is of ${formatDate(String(facts.last_run))}`}.`;
    case "age-unknown":
      return `The age of ${facts.item} for ${facts.mode} is not known.`;
    case "nothing-known":
      return "Nothing is known yet of how long its items last.";
    case "chance-too-high":
      return `In the next run of ${hours("run")} the chance can reach ${share("upper")}; ${share("allowed")} is allowed.`;
    case "interval-in-run":
      return `${hours("hours")} since the redress and a run of ${hours("run")} pass the interval in force, ${hours("interval")}.`;
    case "inside":
      return `${hours("hours_left")} left under the allowed chance; the next run takes ${hours("run")}.`;
  }
}

/** The rule behind the readings, as it is printed with the board. */
export const fleetRule: readonly string[] = [
  "Redress due: an item was found failed and is not restored, the interval in force is reached, or under 5 h are left under the allowed chance.",
  "Not enough known: the last run is not entered, the age of a mode that stops jobs is not known, or nothing is known of its items.",
  "Look first: in the next run the upper bound of the chance passes what is allowed, or the interval in force is passed.",
  "Inside its limit: none of these. Advice, never a clearance.",
];

/** What drives the chance: "main seal, leak at 203 h". */
export const sayDriver = (driver: FleetTool["driver"]): string =>
  driver === null ? "" : `${driver.item}, ${driver.mode} at ${formatAge(driver.age)}`;

/** A year ahead in one or two sentences, with what came where that is known. */
export function sayForecast({ forecast, provenance, definition }: FleetResult): string {
  if (forecast === null) return "No year ahead can be told: no run on record says how the tools are used.";
  const { failures, redresses, lastYear, lookBack } = forecast;
  const level = formatConfidence(definition.confidence);
  const range = (count: CountRange) =>
    `${formatNumber(count.mean)} (${formatNumber(count.lower)}–${formatNumber(count.upper)}, ${level})`;
  const expected = `From ${formatDate(provenance.cutoff)} a year ahead: ${range(failures)} jobs stopped by a failure and ${range(redresses)} redresses, against ${formatNumber(lastYear)} jobs stopped in the year before.`;
  const year = lookBack.find(({ months }) => months === 12);
  if (year === undefined) return expected;
  const { actual, foretold, byLastYear } = year;
  const inside = actual >= foretold.lower && actual <= foretold.upper;
  const nearer = Math.abs(actual - foretold.mean) <= Math.abs(actual - byLastYear);
  return `${expected} ${formatNumber(actual)} came, ${inside ? "inside" : "outside"} the range; ${nearer ? "the forecast was no farther off than the year before" : "the year before alone would have been nearer"}.`;
}

/** How forecasts from past dates did against what came, over every date and horizon at once. */
export function sayLookBack(rows: readonly LookedBack[]): string {
  if (rows.length === 0) return "No past date has a quarter year of records after it yet, so nothing can be scored.";
  const inside = rows.filter(({ actual, foretold }) => foretold.lower <= actual && actual <= foretold.upper).length;
  const error = (of: (row: LookedBack) => number) =>
    rows.reduce((sum, row) => sum + Math.abs(row.actual - of(row)), 0) / rows.length;
  const [own, rate] = [error(({ foretold }) => foretold.mean), error(({ byLastYear }) => byLastYear)];
  const better =
    own < rate
      ? "nearer than last year's rate"
      : own > rate
        ? "no nearer than last year's rate"
        : "as near as last year's rate";
  return `What came lay inside the range in ${formatNumber(inside)} of ${formatNumber(rows.length)} looks back; the forecast was off by ${formatNumber(own)} on average, last year's rate by ${formatNumber(rate)}: ${better}. The looks overlap, so they say less than their number.`;
}

/** What the picture of the board shows. */
export function sayFleetBoard({ tools, allowedChance }: FleetResult): string {
  const over = tools.filter(({ chance }) => (chance.upper ?? 0) > allowedChance).length;
  return `The chance in the next run can pass ${formatNumber(100 * allowedChance)} % on ${countOf(over, "tool")} of ${formatNumber(tools.length)}`;
}
