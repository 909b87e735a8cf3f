import { median } from "simple-statistics";
import { centreDraws } from "../decisions/centreDraws.ts";
import { forecastUse, type ToolGroup, type ToolInUse } from "../decisions/forecastUse.ts";
import { quantileOf } from "../decisions/quantileOf.ts";
import { shelfStock } from "../decisions/shelfStock.ts";
import { highOf } from "../lives/age.ts";
import { dateOf, dayOf } from "../lives/calendar.ts";
import type { Row } from "../records/descriptor.ts";
import type { FittedMode } from "./fitModes.ts";
import type { CountRange, FleetForecast, ForetoldCount, LookedBack } from "./fleetTypes.ts";
import { practiceChance } from "./practiceChance.ts";
import type { PresentAge } from "./presentAges.ts";
import { type RedressPractice, redressPractice } from "./redressPractice.ts";
import type { Report } from "./report.ts";
import type { ShopData } from "./shopData.ts";
import type { StudyDefinition } from "./types.ts";

const MONTHS = 12;
const HORIZONS = [3, 6, 12] as const;
/** Futures played: their number times the tools is about the same, for many tools make one future say more. */
const MOST_FUTURES = 300;
const FEWEST_FUTURES = 60;
const TOOL_FUTURES = 24_000;
const MONTH_DAYS = 365.25 / 12;
/** Chance that a kit wanted within the lead time is there. Common practice, no source. */
const SERVICE = 0.95;
const MOST_RUNS = 500;
/** Hours at which a redress is thought to fall where none is on record. Common practice, no source. */
const FIRST_AGE = 200;

/** What the forecast needs to know of one tool type. */
export interface TypeInUse {
  readonly toolType: string;
  readonly items: readonly Row<"tool_items">[];
  readonly fitted: readonly FittedMode[];
  readonly practice: RedressPractice;
  readonly tools: readonly {
    readonly serial: string;
    readonly ages: readonly PresentAge[];
    readonly hoursSinceRedress: number | null;
  }[];
}

/**
 * Failures that stop jobs, redresses and kits month by month for a year: from present ages, coming jobs, each tool's hours of
 * the last year and the practice of redressing as the records show it. Null where no run tells how the tools are used.
 *
 * @param laterData  The same records without a cut-off, to count what came after a past one; the same data for the present.
 */
export function forecastFleet(
  types: readonly TypeInUse[],
  data: ShopData,
  laterData: ShopData,
  definition: StudyDefinition,
  report: Report,
): FleetForecast | null {
  const { seed, confidence } = definition;
  const today = dayOf(data.derived.cutoff);
  const usable = types.filter(({ practice, fitted }) => practice.runs.length > 0 && fitted.length > 0);
  if (usable.length === 0) return null;
  const count = usable.reduce((sum, { tools }) => sum + tools.length, 0);
  const futures = Math.round(Math.max(FEWEST_FUTURES, Math.min(MOST_FUTURES, TOOL_FUTURES / Math.max(1, count))));
  const usual = usable.map(({ practice }) => hoursPerMonth(practice.runs, today - 365, today));
  const groups = usable.map((type, place) =>
    groupOf(type, usual[place]!, plannedOf(data.records.planned_runs ?? [], today)),
  );
  const { failures, redresses, kits } = forecastUse({
    groups,
    months: MONTHS,
    futures,
    seed,
    onShare: (share) => report(share, "playing the year ahead"),
  });
  const range = (counts: readonly number[]) => countRange(counts, confidence);
  const total = (counts: readonly Uint16Array[]) => totalWithin(counts, MONTHS);
  const stopping = stoppingModes(usable);
  const lastYear = failuresBetween(data, stopping, dateOf(today - 365), data.derived.cutoff);
  return {
    months: Array.from({ length: MONTHS }, (_, month) => ({
      from: dateOf(today + Math.round(month * MONTH_DAYS)),
      failures: range(failures.map((one) => one[month]!)),
      redresses: range(redresses.map((one) => one[month]!)),
    })),
    failures: range(total(failures)),
    redresses: range(total(redresses)),
    lastYear,
    hoursPerYear: groups.reduce(
      (sum, { tools }) => sum + 12 * tools.reduce((all, tool) => all + tool.hoursPerMonth, 0),
      0,
    ),
    lookBack: HORIZONS.flatMap((horizon): LookedBack[] => {
      const end = dateOf(today + Math.round(horizon * MONTH_DAYS));
      if (laterData.derived.cutoff < end) return [];
      const actual = failuresBetween(laterData, stopping, data.derived.cutoff, end);
      const foretold = (counts: readonly number[]): ForetoldCount => ({
        ...range(counts),
        below: counts.filter((count) => count < actual).length / counts.length,
        equal: counts.filter((count) => count === actual).length / counts.length,
      });
      const used = usable.map((type) => {
        const { runs } = redressPractice(laterData, { ...definition, cutoff: end }, type.toolType);
        return groupOf(type, hoursPerMonth(runs, today, dayOf(end)), new Map());
      });
      const known = forecastUse({ groups: used, months: horizon, futures, seed });
      return [
        {
          months: horizon,
          actual,
          foretold: foretold(totalWithin(failures, horizon)),
          useKnown: foretold(totalWithin(known.failures, horizon)),
          byLastYear: (lastYear * horizon) / 12,
        },
      ];
    }),
    service: SERVICE,
    kits: usable.flatMap((type, place) =>
      kitsOf(type).map((kit, at) => {
        const used = kits[place]![at]!;
        const stock = (data.records.stock ?? []).find((row) => row.kit === kit);
        const lead = stock?.lead_time_d ?? null;
        const demand = used.map((one) => usedWithin(one, (lead ?? MONTH_DAYS) / MONTH_DAYS));
        return {
          kit,
          toolType: type.toolType,
          perYear: range(total(used)),
          leadTimeD: lead,
          onHand: stock?.on_hand ?? null,
          ...shelfStock(demand, stock?.on_hand ?? null, SERVICE),
        };
      }),
    ),
    method: { futures, draws: groups[0]?.draws.length ?? 0 },
  };
}

const countRange = (counts: readonly number[], confidence: number): CountRange => ({
  mean: counts.reduce((sum, one) => sum + one, 0) / counts.length,
  lower: Math.floor(quantileOf(counts, (1 - confidence) / 2)),
  upper: Math.ceil(quantileOf(counts, (1 + confidence) / 2)),
});

const totalWithin = (counts: readonly Uint16Array[], months: number): number[] =>
  counts.map((one) => one.subarray(0, months).reduce((a, b) => a + b, 0));

/** Kits used by a time within the year, months shared out evenly. */
function usedWithin(counts: Uint16Array, months: number): number {
  let used = 0;
  for (let month = 0; month < Math.min(counts.length, Math.ceil(months)); month++)
    used += counts[month]! * Math.min(1, months - month);
  return Math.round(used);
}

const kitsOf = ({ items }: TypeInUse): string[] => [
  ...new Set(items.flatMap(({ kit }) => (kit == null || kit === "" ? [] : [kit]))),
];

function groupOf(
  type: TypeInUse,
  perMonth: ReadonlyMap<string, number>,
  planned: ReadonlyMap<string, readonly Job[]>,
): ToolGroup {
  const { fitted, items, practice, tools } = type;
  const names = items.map(({ item }) => item);
  const usual = tools.length === 0 ? 0 : [...perMonth.values()].reduce((sum, one) => sum + one, 0) / tools.length;
  const renewedShare = names.map((item) =>
    Math.max(
      0,
      ...fitted.filter((one) => one.item === item).map(({ mode }) => Math.min(1, practice.restoredShare(item, mode))),
    ),
  );
  const runs = practice.runs.map(({ hours }) => hours).filter((hours) => hours > 0);
  const usualAge = practice.redresses.length === 0 ? FIRST_AGE : median(practice.redresses.map(({ hours }) => hours));
  const centred = fitted.map(({ law, draws }) => centreDraws(law, draws, Math.max(1, usualAge)));
  return {
    draws: Array.from({ length: centred[0]?.length ?? 0 }, (_, draw) => centred.map((draws) => draws[draw]!)),
    itemOf: fitted.map(({ item }) => names.indexOf(item)),
    runs: runs.slice(-MOST_RUNS),
    chanceAt: practiceChance(practice),
    renewedShare,
    kitShare: kitsOf(type).map((kit) =>
      Math.max(0, ...items.map((row, at) => (row.kit === kit ? renewedShare[at]! : 0))),
    ),
    tools: tools.map(
      ({ serial, ages, hoursSinceRedress }): ToolInUse => ({
        states: fitted.map(({ item, mode, defect }) => {
          const own = ages.find((row) => row.item === item && row.mode === mode.mode);
          const seen = ages.find((row) => row.item === item && row.mode === defect?.mode);
          return {
            age: own === undefined || own.state !== "running" ? 0 : highOf(own.age),
            cleanAt: own?.state === "running" ? (seen?.cleanAt ?? own.cleanAt) : 0,
          };
        }),
        hoursSinceRedress: hoursSinceRedress ?? 0,
        hoursPerMonth: perMonth.get(serial) ?? usual,
        planned: (planned.get(serial) ?? []).map(({ month, hours }) => ({ month, hours: hours ?? Math.max(1, usual) })),
      }),
    ),
  };
}

/** Hours of each serial from one day to another, by month. */
function hoursPerMonth(runs: RedressPractice["runs"], after: number, by: number): Map<string, number> {
  const months = (by - after) / MONTH_DAYS;
  const hours = new Map<string, number>();
  for (const { run, hours: ran } of runs) {
    if (run.in_on != null && dayOf(run.in_on) > after && dayOf(run.in_on) <= by)
      hours.set(run.serial, (hours.get(run.serial) ?? 0) + ran / months);
  }
  return hours;
}

interface Job {
  readonly month: number;
  readonly hours: number | null;
}

function plannedOf(rows: readonly Row<"planned_runs">[], today: number): Map<string, Job[]> {
  const planned = new Map<string, Job[]>();
  const ordered = [...rows].sort((a, b) => (a.start_on < b.start_on ? -1 : 1));
  for (const { serial, start_on, hours } of ordered) {
    const day = dayOf(start_on);
    if (day <= today) continue;
    const own = planned.get(serial) ?? [];
    own.push({ month: (day - today) / MONTH_DAYS, hours: hours ?? null });
    planned.set(serial, own);
  }
  return planned;
}

const nameOf = (toolType: string, item: string, mode: string): string => JSON.stringify([toolType, item, mode]);

const stoppingModes = (types: readonly TypeInUse[]): ReadonlySet<string> =>
  new Set(
    types.flatMap(({ toolType, fitted }) =>
      fitted.filter(({ law }) => law.kind !== "hidden").map(({ item, mode }) => nameOf(toolType, item, mode.mode)),
    ),
  );

/** Failures that stop jobs which became known after one date and by another. */
const failuresBetween = ({ derived }: ShopData, stopping: ReadonlySet<string>, after: string, by: string): number =>
  derived.lives.filter(
    ({ kind, toolType, item, mode, endedOn }) =>
      kind !== "right" && endedOn > after && endedOn <= by && stopping.has(nameOf(toolType, item, mode)),
  ).length;
