import { median } from "simple-statistics";
import { quantileOf } from "../decisions/quantileOf.ts";
import { type KnownState, stopChance } from "../decisions/stopChance.ts";
import { type WeibullParameters, weibull } from "../distributions/weibull.ts";
import { highOf } from "../lives/age.ts";
import type { Row } from "../records/descriptor.ts";
import type { LineWithBounds } from "./decisionTypes.ts";
import { usualDecision } from "./definition.ts";
import { type FittedMode, fitModes } from "./fitModes.ts";
import type { FleetResult, FleetTool } from "./fleetTypes.ts";
import { forecastFleet } from "./forecastFleet.ts";
import { type HeatMode, heatModes } from "./heat/heatModes.ts";
import { heatVerdict } from "./heat/heatOfWells.ts";
import { type ToolHeat, toolHeat } from "./heat/toolHeat.ts";
import { decidedInterval } from "./intervalInForce.ts";
import { derivationNotices } from "./notices.ts";
import { type PresentAge, presentAges } from "./presentAges.ts";
import { readTool } from "./readTool.ts";
import { type RedressPractice, redressPractice } from "./redressPractice.ts";
import { type Report, silent, within } from "./report.ts";
import { failureDefinition, inScope, provenance, type ShopData, type StudyContext } from "./shopData.ts";
import type { Estimate, StudyDefinition } from "./types.ts";

/** Hours of a run at which the chance is worked out; the page reads between them. */
const HOURS = [0, 10, 20, 30, 40, 50, 60, 80, 100, 125, 150, 200, 250] as const;
/** Every second draw: enough for a 5 % point, and sixty tools are read in a second or two. */
const EVERY = 2;
/** On a large board: fifty draws still hold a bound to a few hundredths of its level. */
const EVERY_OF_MANY = 6;
const MANY_TOOLS = 500;

/**
 * "Which tool may go out?": each tool with the ages of its items, the chance that its next run is stopped by a failure given
 * all that is known, how many hours it has left under the allowed chance, and a reading by a printed rule. Modes compete; a
 * defect last looked for at some age and the failure it leads to are one. Advice, never a clearance.
 */
export function runFleet(
  definition: StudyDefinition,
  data: ShopData,
  context: StudyContext,
  /** The same records without a cut-off, where the board is looked at as of a past date. */
  laterData: ShopData = data,
  report: Report = silent,
): FleetResult {
  const { scope } = definition;
  const settings = definition.decision ?? usualDecision;
  const { cutoff } = data.derived;
  const inQuestion = (data.records.tools ?? []).filter((tool) =>
    inScope(
      { ...scope, item: null, mode: null },
      { toolType: tool.tool_type, sizeIn: tool.size_in ?? null, serial: tool.serial, item: "", mode: "" },
    ),
  );
  const here = inQuestion.filter(({ status }) => status !== "lost in hole" && status !== "scrapped");
  const toolTypes = [...new Set(here.map(({ tool_type }) => tool_type))].sort();
  const ofType = new Map(
    toolTypes.map((toolType, place) => {
      const ofThis = within(report, (0.4 * place) / toolTypes.length, (0.4 * (place + 1)) / toolTypes.length);
      const practice = redressPractice(data, { ...definition, scope: { ...scope, serial: null } }, toolType);
      const usualRun =
        practice.runs.length === 0 ? 50 : Math.max(1, Math.round(median(practice.runs.map(({ hours }) => hours))));
      const items = data.items.filter((row) => row.tool_type === toolType);
      const fitted = items.flatMap(({ item }, at) => {
        ofThis((0.5 * at) / items.length, `fitting the lives of ${item}, ${toolType}`);
        return fitModes(data, definition, toolType, item);
      });
      const heat = heatModes(data, definition, toolType, within(ofThis, 0.5, 1));
      return [
        toolType,
        {
          items,
          fitted,
          heat,
          runsOf: runsBySerial(practice.runs),
          usualRun,
          practice,
          decided: decidedInterval(data, toolType, null),
        },
      ] as const;
    }),
  );
  const planned = firstPlanned(data.records.planned_runs ?? [], cutoff);
  const trips = tripsOf(data.records.runs ?? []);
  const redressed = lastRedresses(data.records.redresses ?? [], cutoff);

  const tools = here.map((tool, place): FleetTool => {
    report(0.4 + (0.3 * place) / here.length, "reading every tool by the ages of its items");
    const { items, fitted, heat, runsOf, usualRun, decided } = ofType.get(tool.tool_type)!;
    const plan = planned.get(tool.serial);
    const run = plan?.hours ?? settings.runHours ?? usualRun;
    const nextRun = {
      hours: run,
      source: plan?.hours == null ? ("usual" as const) : ("planned" as const),
      startOn: plan?.start_on ?? null,
      celsius: plan?.max_temperature_C ?? settings.wellC,
    };
    const ages = presentAges(data, tool.serial, items);
    const heatOf = (one: FittedMode, own: PresentAge): HeatOfTool | null => {
      const mode = heat?.modes.find(({ plain }) => plain === one);
      if (heat == null || mode?.heat == null) return null;
      const place = toolHeat(own, runsOf.get(tool.serial) ?? [], heat, nextRun.celsius);
      return { ...mode.heat, ...place };
    };
    const risk = riskOf(
      { fitted, ages, heatOf },
      run,
      definition.confidence,
      here.length > MANY_TOOLS ? EVERY_OF_MANY : EVERY,
    );
    const own = trips.get(tool.serial) ?? [];
    const hoursSinceRedress = redressed.has(tool.serial) ? hoursSince(ages, redressed.get(tool.serial)!.redress) : null;
    const left = hoursUnder(risk.byHours, settings.allowedChance);
    const late = isLate(tool, own, cutoff);
    const { reading, reasons } = readTool({
      failed: ages.filter(({ state }) => state === "failed"),
      unknown: risk.unknown,
      chance: risk.chance,
      allowedChance: settings.allowedChance,
      hoursLeft: left.hours,
      run,
      hoursSinceRedress,
      intervalH: decided?.intervalH ?? null,
      recordsLate: late,
      lastRunOn: own.at(-1)?.on ?? null,
      statusOn: tool.status_on ?? null,
    });
    return {
      serial: tool.serial,
      toolType: tool.tool_type,
      sizeIn: tool.size_in ?? null,
      status: tool.status ?? null,
      statusOn: tool.status_on ?? null,
      location: tool.location ?? null,
      reading,
      reasons,
      lastRunOn: own.at(-1)?.on ?? null,
      recordsLate: late,
      hoursSinceRedress,
      nextRun,
      chance: risk.chance,
      driver: risk.driver,
      hoursLeft: left.hours,
      hoursLeftBeyond: left.beyond,
      byHours: risk.byHours,
      modes: risk.modes,
    };
  });
  return {
    kind: "fleet",
    definition,
    provenance: provenance(data, definition, context),
    scope,
    failureDefinition: failureDefinition(data, scope, definition, context),
    tools: [...tools].sort(byUrgency),
    forecast: forecastFleet(
      [...ofType].map(([toolType, { items, fitted, practice }]) => ({
        toolType,
        items,
        fitted,
        practice,
        tools: tools
          .filter((tool) => tool.toolType === toolType)
          .map(({ serial, hoursSinceRedress }) => ({
            serial,
            hoursSinceRedress,
            ages: presentAges(data, serial, items),
          })),
      })),
      data,
      laterData,
      definition,
      within(report, 0.7, 1),
    ),
    heat: [...ofType].flatMap(([toolType, { heat }]) => {
      if (heat === null) return [];
      const { referenceC, lowC, highC } = heat.wells;
      return [{ toolType, referenceC, lowC, highC, modes: heat.modes.map((mode) => heatVerdict(mode, heat)) }];
    }),
    gone: inQuestion.length - here.length,
    allowedChance: settings.allowedChance,
    oneSided: (1 + definition.confidence) / 2,
    intervals: [...ofType].flatMap(([toolType, { decided }]) =>
      decided?.intervalH == null ? [] : [{ toolType, intervalH: decided.intervalH, datedOn: decided.datedOn }],
    ),
    notices: derivationNotices(data, definition, context),
  };
}

/** A mode that follows the heat, on the clock of one tool. */
type HeatOfTool = NonNullable<HeatMode["heat"]> & ToolHeat;

interface ToolAtHand {
  readonly fitted: readonly FittedMode[];
  readonly ages: readonly PresentAge[];
  /** Null where the mode's hours count as they are. */
  readonly heatOf: (one: FittedMode, own: PresentAge) => HeatOfTool | null;
}

interface Risk extends Pick<FleetTool, "chance" | "driver" | "byHours" | "modes"> {
  /** Modes that stop jobs of which the age or everything is not known. */
  readonly unknown: readonly { readonly item: string; readonly mode: string }[];
}

/** Chances of one tool: by the estimate and over the draws, at the hours of the grid and of its next run. */
function riskOf({ fitted, ages, heatOf }: ToolAtHand, run: number, confidence: number, every: number): Risk {
  const standing = fitted.map((one) => {
    const own = ages.find(({ item, mode }) => item === one.item && mode === one.mode.mode);
    const defect = ages.find(({ item, mode }) => item === one.item && mode === one.defect?.mode);
    // What a look found failed, itself or its defect, and nobody restored: no law of sound items speaks of it.
    const foundFailed = own?.state === "failed" || defect?.state === "failed";
    const cleanAt = defect?.cleanAt ?? own?.cleanAt ?? 0;
    return { one, own, foundFailed, cleanAt, heat: own === undefined ? null : heatOf(one, { ...own, cleanAt }) };
  });
  const stopping = standing.filter(({ one }) => one.law.kind !== "hidden");
  const failed = stopping.some(({ foundFailed }) => foundFailed);
  const hours = [...HOURS, run];
  const counted = stopping.flatMap(({ one, own, foundFailed, cleanAt, heat }) =>
    own === undefined || own.state === "not known" || foundFailed
      ? []
      : [{ one, own, chances: chancesOf(one, heat, { age: highOf(own.age), cleanAt }, hours) }],
  );
  const each = counted.map(({ chances }) => chances(null));
  const value = together(each, hours.length);
  const draws = Array.from({ length: Math.floor((fitted[0]?.draws.length ?? 0) / every) }, (_, draw) =>
    together(
      counted.map(({ chances }) => chances(draw * every)),
      hours.length,
    ),
  );
  const bound = (place: number, share: number): number =>
    draws.length === 0
      ? value[place]!
      : quantileOf(
          draws.map((draw) => draw[place]!),
          share,
        );
  const lower = hours.map((_, place) => Math.min(value[place]!, bound(place, (1 - confidence) / 2)));
  const upper = hours.map((_, place) => Math.max(value[place]!, bound(place, (1 + confidence) / 2)));
  const last = hours.length - 1;
  const known = counted.length > 0 && !failed;
  const inRun = each.map((chances) => chances[last]!);
  const most = inRun.indexOf(Math.max(...inRun));
  const total = inRun.reduce((sum, chance) => sum + chance, 0);
  return {
    chance: known
      ? {
          value: value[last]!,
          lower: lower[last]!,
          upper: upper[last]!,
          confidence,
          method: "parameter draws",
          unit: "fraction",
        }
      : noChance(confidence, failed ? "found failed" : "no maximum"),
    driver:
      known && total > 0
        ? {
            item: counted[most]!.one.item,
            mode: counted[most]!.one.mode.mode,
            age: counted[most]!.own.age,
            share: inRun[most]! / total,
          }
        : null,
    byHours: {
      hours: [...HOURS],
      chance: { value: value.slice(0, last), lower: lower.slice(0, last), upper: upper.slice(0, last) },
    },
    modes: standing.flatMap(({ one, own, heat }) => {
      if (own === undefined) return [];
      const place = counted.findIndex((row) => row.one === one);
      const hidden = one.law.kind === "hidden";
      const there =
        hidden && one.law.kind === "hidden" && own.state === "running"
          ? sinceClean(one.law.life, own, heat)
          : (inRun[place] ?? 0);
      return [
        {
          item: one.item,
          mode: one.mode.mode,
          age: own.age,
          heatAge: heat === null ? null : heat.standing(heat.best.energy).age,
          state: own.state,
          kind: hidden ? ("waits for the shop" as const) : ("stops a job" as const),
          chance: there,
        },
      ];
    }),
    unknown: stopping
      .filter(({ own }) => own === undefined || own.state === "not known")
      .map(({ one }) => ({ item: one.item, mode: one.mode.mode })),
  };
}

/** Chances within further hours, by the estimate (null) or a draw; on the heat clock where the mode follows it. */
function chancesOf(
  one: FittedMode,
  heat: HeatOfTool | null,
  state: KnownState,
  hours: readonly number[],
): (draw: number | null) => number[] {
  if (heat === null) return (draw) => stopChance(draw === null ? one.law : one.draws[draw]!, state, hours);
  const byEnergy = new Map<number, { readonly state: KnownState; readonly hours: readonly number[] }>();
  const onClock = (energy: number) => {
    const rate = heat.rate(energy);
    const found = byEnergy.get(energy) ?? { state: heat.standing(energy), hours: hours.map((more) => more * rate) };
    byEnergy.set(energy, found);
    return found;
  };
  return (draw) => {
    const { energy, law } = draw === null ? heat.best : heat.draws[draw]!;
    const there = onClock(energy);
    return stopChance(law, there.state, there.hours);
  };
}

/** Chance that a hidden mode is there now, given the last look that found it sound. */
function sinceClean(
  plain: WeibullParameters,
  { age: own, cleanAt: clean }: PresentAge,
  heat: HeatOfTool | null,
): number {
  const life = heat?.best.law.kind === "hidden" ? heat.best.law.life : plain;
  if (!Number.isFinite(life.scale)) return 0;
  const { age, cleanAt } =
    heat === null ? { age: highOf(own), cleanAt: Math.min(clean, highOf(own)) } : heat.standing(heat.best.energy);
  return 1 - weibull(life).conditionalSurvival(cleanAt, age - cleanAt);
}

function runsBySerial(runs: RedressPractice["runs"]): Map<string, RedressPractice["runs"][number][]> {
  const bySerial = new Map<string, RedressPractice["runs"][number][]>();
  for (const one of runs) {
    const own = bySerial.get(one.run.serial);
    if (own) own.push(one);
    else bySerial.set(one.run.serial, [one]);
  }
  return bySerial;
}

/** Chance that one or another comes first, all independent. */
const together = (each: readonly (readonly number[])[], length: number): number[] =>
  Array.from({ length }, (_, place) => 1 - each.reduce((running, chances) => running * (1 - chances[place]!), 1));

const noChance = (confidence: number, why: NonNullable<Estimate["why"]>): Estimate => ({
  value: null,
  lower: null,
  upper: null,
  confidence,
  method: "none",
  unit: "fraction",
  why,
});

/** Longest run whose upper bound stays at or under what is allowed, between grid hours linearly. */
function hoursUnder(
  { hours, chance }: { readonly hours: readonly number[]; readonly chance: LineWithBounds },
  allowed: number,
): { hours: number | null; beyond: boolean } {
  const over = chance.upper.findIndex((value) => value > allowed);
  if (over < 0) return { hours: hours.at(-1) ?? null, beyond: true };
  if (over === 0) return { hours: null, beyond: false };
  const [a, b] = [chance.upper[over - 1]!, chance.upper[over]!];
  const [from, to] = [hours[over - 1]!, hours[over]!];
  return { hours: from + ((allowed - a) / (b - a)) * (to - from), beyond: false };
}

/** Hours since the last redress: the oldest age of what it restored; 0 where it ran none since. */
function hoursSince(ages: readonly PresentAge[], redress: string): number {
  return Math.max(0, ...ages.filter(({ since }) => since === redress).map(({ age }) => highOf(age)));
}

interface Trip {
  readonly on: string;
  readonly open: boolean;
}

/** Trips by serial, the latest last; a run that has not come in is open. */
function tripsOf(runs: readonly Row<"runs">[]): Map<string, Trip[]> {
  const trips = new Map<string, Trip[]>();
  for (const { serial, out_on, in_on } of runs) {
    const trip = { on: in_on ?? out_on, open: in_on == null };
    const own = trips.get(serial);
    if (own) own.push(trip);
    else trips.set(serial, [trip]);
  }
  for (const own of trips.values()) own.sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
  return trips;
}

/** Out with no open run, or a status older than its last trip: the last run is not entered, or the status is not. */
function isLate(tool: Row<"tools">, trips: readonly Trip[], cutoff: string): boolean {
  const last = trips.at(-1);
  if (tool.status === "out") return !trips.some(({ open }) => open);
  return last !== undefined && tool.status_on != null && last.on > tool.status_on && last.on <= cutoff;
}

function firstPlanned(rows: readonly Row<"planned_runs">[], cutoff: string): Map<string, Row<"planned_runs">> {
  const first = new Map<string, Row<"planned_runs">>();
  for (const row of rows) {
    if (row.start_on < cutoff) continue;
    const before = first.get(row.serial);
    if (before === undefined || row.start_on < before.start_on) first.set(row.serial, row);
  }
  return first;
}

function lastRedresses(rows: readonly Row<"redresses">[], cutoff: string): Map<string, Row<"redresses">> {
  const last = new Map<string, Row<"redresses">>();
  for (const row of rows) {
    const before = last.get(row.serial);
    if (row.done_on <= cutoff && (before === undefined || row.done_on >= before.done_on)) last.set(row.serial, row);
  }
  return last;
}

const urgency: Readonly<Record<FleetTool["reading"], number>> = {
  "redress due": 0,
  "look first": 1,
  "not enough known": 2,
  "inside its limit": 3,
};
const byUrgency = (a: FleetTool, b: FleetTool): number =>
  urgency[a.reading] - urgency[b.reading] ||
  (b.chance.upper ?? 0) - (a.chance.upper ?? 0) ||
  (a.serial < b.serial ? -1 : 1);
