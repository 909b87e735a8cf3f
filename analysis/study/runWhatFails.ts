import { exactRate } from "../estimation/exactRate.ts";
import { shrunkenRates } from "../estimation/shrunkenRates.ts";
import { dayOf } from "../lives/calendar.ts";
import { clockRuns } from "../lives/clockRuns.ts";
import { deriveLives } from "../lives/deriveLives.ts";
import type { Life } from "../lives/types.ts";
import type { Row } from "../records/descriptor.ts";
import { livesDefinition } from "./definition.ts";
import { type Exposure, exposureOf, sumExposure } from "./exposure.ts";
import { derivationNotices } from "./notices.ts";
import { settledAge } from "./settleAges.ts";
import { betweenDates, failureDefinition, inScope, provenance, type ShopData, type StudyContext } from "./shopData.ts";
import type { Estimate, ModeRate, StudyDefinition, WhatFailsResult } from "./types.ts";

/** Fewer failures than this are few: hatched, and said. Common practice, no source. */
const FEW = 5;

/** "What fails, and where in the tool?": failures per 1,000 hours under observation, by mode, by item, over time. */
export function runWhatFails(definition: StudyDefinition, data: ShopData, context: StudyContext): WhatFailsResult {
  const { scope, confidence } = definition;
  const { from, to, customer } = scope;
  const rateOf = (failures: number, hours: number): Estimate => exactRate({ failures, hours, confidence });
  const groups = exposureGroups(data, definition);
  const sums = groups.map((group) => ({ ...group, ...sumExposure(group.exposures, from, to, customer) }));
  const shrunken = shrinkByKind(sums.map(({ kind, failures, hours }) => ({ kind, failures, hours })));
  const modes = sums
    .map(
      ({ toolType, item, kind, position, mode, announces, failures, hours, looks, failed }, index): ModeRate => ({
        toolType,
        item,
        itemKind: kind,
        position,
        mode,
        announces,
        failures,
        hours,
        looks,
        rate: rateOf(failures, hours),
        shrunkenRate: shrunken[index] ?? 0,
        few: failures < FEW,
        broughtBack: failed.filter((life) => life.closedBy === "failure" && broughtToolBack(data, life.runs, item))
          .length,
        lifeIds: failed.map(({ id }) => id),
      }),
    )
    .sort(
      (a, b) => (b.rate.value ?? -1) - (a.rate.value ?? -1) || b.failures - a.failures || (a.item < b.item ? -1 : 1),
    );

  const runs = countedRuns(data, definition);
  const hours = runs.reduce((sum, run) => sum + run.hours, 0);
  const toolFailures = runs.filter(
    ({ run }) => run.pulled_because === "tool failure" || run.pulled_because === "lost in hole",
  ).length;
  const rejects = new Set(data.derived.buildRejects);
  const inTools = new Set(data.records.tools?.filter((tool) => ofTool(definition, tool)).map(({ serial }) => serial));
  return {
    kind: "what fails",
    definition,
    provenance: provenance(data, definition, context),
    scope,
    failureDefinition: failureDefinition(data, scope, definition, context),
    tools: new Set(runs.map(({ run }) => run.serial)).size,
    runs: runs.length,
    toolFailures,
    toolFailureRate: rateOf(toolFailures, hours),
    hours: hoursInScope(data, definition),
    modes,
    periods: periodsOf(groups, definition, rateOf, data.derived.cutoff),
    drawing: drawingOf(data, definition, groups),
    toolEvents: data.derived.toolEvents.filter(({ serial, on }) => inTools.has(serial) && betweenDates(from, to, on)),
    buildRejects: (data.records.redresses ?? []).filter(
      ({ redress, serial, done_on }) => rejects.has(redress) && inTools.has(serial) && betweenDates(from, to, done_on),
    ).length,
    notices: [
      ...derivationNotices(data, definition, context),
      ...(modes.some((mode) => mode.few)
        ? [{ code: "few-failures" as const, facts: { failures: FEW, modes: modes.filter((mode) => mode.few).length } }]
        : []),
    ],
  };
}

interface ExposureGroup {
  readonly toolType: string;
  readonly item: string;
  readonly kind: Row<"tool_items">["kind"];
  readonly position: number | null;
  readonly mode: string;
  readonly announces: "evident" | "hidden";
  readonly exposures: readonly Exposure[];
}

/** Exposure of every mode of every item in scope, dates not yet applied. Modes that never ran have none. */
function exposureGroups(data: ShopData, { scope }: StudyDefinition): ExposureGroup[] {
  const wanted = { ...scope, from: null, to: null };
  const lives = new Map<string, Exposure[]>();
  const announcesOf = new Map<string, "evident" | "hidden">();
  const items = data.items.filter(
    (item) =>
      (scope.toolType === null || item.tool_type === scope.toolType) &&
      (scope.item === null || item.item === scope.item),
  );
  for (const { tool_type, item } of items) {
    for (const { mode, announces } of data.modesOf(tool_type, item))
      announcesOf.set(`${tool_type}\u0000${item}\u0000${mode}`, announces);
  }
  for (const life of data.derived.lives) {
    const key = `${life.toolType}\u0000${life.item}\u0000${life.mode}`;
    const announces = announcesOf.get(key);
    if (announces === undefined || !inScope(wanted, life)) continue;
    const list = lives.get(key) ?? [];
    list.push(exposureOf(life, announces, data));
    lives.set(key, list);
  }
  return items.flatMap(({ tool_type, item, kind, position }) =>
    data.modesOf(tool_type, item).flatMap(({ mode, announces }): ExposureGroup[] => {
      const exposures = lives.get(`${tool_type}\u0000${item}\u0000${mode}`);
      return exposures
        ? [{ toolType: tool_type, item, kind, position: position ?? null, mode, announces, exposures }]
        : [];
    }),
  );
}

function shrinkByKind(
  rows: readonly { readonly kind: string; readonly failures: number; readonly hours: number }[],
): number[] {
  const result = new Array<number>(rows.length).fill(0);
  for (const kind of new Set(rows.map((row) => row.kind))) {
    const at = rows.flatMap((row, index) => (row.kind === kind ? [index] : []));
    const rates = shrunkenRates(at.map((index) => rows[index]!));
    at.forEach((index, place) => {
      result[index] = rates[place] ?? 0;
    });
  }
  return result;
}

/** The run during which the failure showed itself was pulled because of this item. */
function broughtToolBack(data: ShopData, runs: Exposure["life"]["runs"], item: string): boolean {
  return runs.some(({ row }) => {
    const run = data.runOf(row.key);
    return run?.item_seen === item && (run.pulled_because === "tool failure" || run.pulled_because === "lost in hole");
  });
}

function ofTool({ scope }: StudyDefinition, tool: Row<"tools">): boolean {
  return (
    (scope.toolType === null || tool.tool_type === scope.toolType) &&
    (scope.sizeIn === null || tool.size_in === scope.sizeIn) &&
    (scope.serial === null || tool.serial === scope.serial)
  );
}

/** The account of run hours of the tools, dates and customer in scope. */
function hoursInScope(data: ShopData, definition: StudyDefinition): WhatFailsResult["hours"] {
  const { toolType, sizeIn, serial, customer, from, to } = definition.scope;
  if ([toolType, sizeIn, serial, customer, from, to].every((limit) => limit === null)) return data.derived.hours;
  const serials = new Set(
    (data.records.tools ?? []).filter((tool) => ofTool(definition, tool)).map((tool) => tool.serial),
  );
  const runs = (data.records.runs ?? []).filter(
    (run) =>
      serials.has(run.serial) &&
      betweenDates(from, to, run.in_on ?? run.out_on) &&
      (customer === null || run.customer === customer),
  );
  return deriveLives({ ...data.records, runs }, livesDefinition({ ...definition, cutoff: data.derived.cutoff })).hours;
}

/** Every counted run in scope, once, with its hours. */
function countedRuns(data: ShopData, definition: StudyDefinition): { run: Row<"runs">; hours: number }[] {
  const { scope } = definition;
  const tools = new Set(
    (data.records.tools ?? []).filter((tool) => ofTool(definition, tool)).map(({ serial }) => serial),
  );
  const lives = livesDefinition({ ...definition, cutoff: data.derived.cutoff });
  const { bySerial } = clockRuns(data.records, lives, dayOf(data.derived.cutoff));
  return [...bySerial.values()].flat().flatMap(({ run, hours }) => {
    const inside =
      tools.has(run.serial) &&
      betweenDates(scope.from, scope.to, run.in_on ?? run.out_on) &&
      (scope.customer === null || run.customer === scope.customer);
    return inside ? [{ run, hours: settledAge([hours.low, hours.high], data.hoursPerDay) }] : [];
  });
}

function periodsOf(
  groups: readonly ExposureGroup[],
  { scope }: StudyDefinition,
  rateOf: (failures: number, hours: number) => Estimate,
  cutoff: string,
): WhatFailsResult["periods"] {
  const dates = groups
    .flatMap(({ exposures }) => exposures.flatMap(({ pieces }) => pieces.map(({ on }) => on)))
    .filter((on) => betweenDates(scope.from, scope.to, on));
  if (dates.length === 0) return [];
  const first = [...dates].sort()[0]!;
  return halfYears([first, scope.from ?? first].sort()[1]!, [cutoff, scope.to ?? cutoff].sort()[0]!).map(
    ({ from, to, label }) => {
      const sums = groups.map(({ item, mode, exposures }) => ({
        item,
        mode,
        ...sumExposure(exposures, from, to, scope.customer),
      }));
      const byMode = sums.map(({ item, mode, failures, hours }) => ({
        item,
        mode,
        failures,
        hours,
        rate: rateOf(failures, hours),
      }));
      const failures = failedItems(sums.flatMap(({ failed }) => failed));
      // Every mode watches the same tool hours, so the total is rated by the most any one mode watched.
      const hours = byMode.reduce((most, one) => Math.max(most, one.hours), 0);
      return { from, to, label, failures, hours, rate: rateOf(failures, hours), byMode };
    },
  );
}

/** Items that failed, an item once where several of its modes failed together (an extrusion and its leak). */
function failedItems(lives: readonly Life[]): number {
  return new Set(lives.map(({ serial, item, since }) => JSON.stringify([serial, item, since]))).size;
}

function halfYears(first: string, last: string): { from: string; to: string; label: string }[] {
  const periods: { from: string; to: string; label: string }[] = [];
  for (let year = Number(first.slice(0, 4)), half = first.slice(5) < "07-01" ? 1 : 2; ; ) {
    const [start, end] = half === 1 ? [`${year}-01-01`, `${year}-06-30`] : [`${year}-07-01`, `${year}-12-31`];
    if (start > last) return periods;
    periods.push({
      from: [start, first].sort()[1]!,
      to: [end, last].sort()[0]!,
      label: `${year} ${half === 1 ? "Jan-Jun" : "Jul-Dec"}`,
    });
    [year, half] = half === 1 ? [year, 2] : [year + 1, 1];
  }
}

/** Items of the tool types in scope. An item failed once where several of its linked modes failed together. */
function drawingOf(
  data: ShopData,
  { scope }: StudyDefinition,
  groups: readonly ExposureGroup[],
): WhatFailsResult["drawing"] {
  const items = data.items.filter(({ tool_type }) => scope.toolType === null || tool_type === scope.toolType);
  const sums = items.map(({ tool_type, item, kind, position }) => {
    const own = groups
      .filter((group) => group.toolType === tool_type && group.item === item)
      .map(({ exposures }) => sumExposure(exposures, scope.from, scope.to, scope.customer));
    const failures = failedItems(own.flatMap(({ failed }) => failed));
    return {
      toolType: tool_type,
      item,
      kind,
      position: position ?? null,
      failures,
      hours: Math.max(0, ...own.map(({ hours }) => hours)),
      known: own.length > 0,
    };
  });
  const shrunken = shrinkByKind(sums);
  const rows = sums.map(({ hours: _hours, known, ...item }, index) => ({
    ...item,
    shrunkenRate: known ? (shrunken[index] ?? null) : null,
    few: item.failures < FEW,
  }));
  return [...new Set(rows.map(({ toolType }) => toolType))].map((toolType) => ({
    toolType,
    items: rows.filter((row) => row.toolType === toolType).map(({ toolType: _toolType, ...item }) => item),
  }));
}
