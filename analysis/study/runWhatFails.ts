import { exactRate } from "../estimation/exactRate.ts";
import { shrunkenRates } from "../estimation/shrunkenRates.ts";
import { deriveLives } from "../lives/deriveLives.ts";
import type { Life } from "../lives/types.ts";
import { countedRuns, runsOfScope, serialsOfScope } from "./countedRuns.ts";
import { livesDefinition } from "./definition.ts";
import { sumExposure } from "./exposure.ts";
import { type ExposureGroup, exposureGroups } from "./exposureGroups.ts";
import { derivationNotices } from "./notices.ts";
import { betweenDates, failureDefinition, provenance, type ShopData, type StudyContext } from "./shopData.ts";
import type { Estimate, ModeRate, StudyDefinition, WhatFailsResult } from "./types.ts";

/** Fewer failures than this are few: hatched, and said. Common practice, no source. */
const FEW = 5;

/** "What fails, and where in the tool?": failures per 1,000 hours under observation, by mode, by item, over time. */
export function runWhatFails(definition: StudyDefinition, data: ShopData, context: StudyContext): WhatFailsResult {
  const { scope, confidence } = definition;
  const { from, to } = scope;
  const rateOf = (failures: number, hours: number): Estimate => exactRate({ failures, hours, confidence });
  const groups = exposureGroups(data, definition);
  const sums = groups.map((group) => ({ ...group, ...sumExposure(group.exposures, scope) }));
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
  const inTools = serialsOfScope(data, scope);
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
function broughtToolBack(data: ShopData, runs: Life["runs"], item: string): boolean {
  return runs.some(({ row }) => {
    const run = data.runOf(row.key);
    return run?.item_seen === item && (run.pulled_because === "tool failure" || run.pulled_because === "lost in hole");
  });
}

/** The account of run hours of the tools, dates and customer in scope. */
function hoursInScope(data: ShopData, definition: StudyDefinition): WhatFailsResult["hours"] {
  const { toolType, sizeIn, serial, customer, from, to, serials, wells } = definition.scope;
  const limits = [toolType, sizeIn, serial, customer, from, to, serials ?? null, wells ?? null];
  if (limits.every((limit) => limit === null)) return data.derived.hours;
  const runs = runsOfScope(data, definition.scope);
  return deriveLives({ ...data.records, runs }, livesDefinition({ ...definition, cutoff: data.derived.cutoff })).hours;
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
      const sums = groups.map(({ toolType, item, mode, exposures }) => ({
        toolType,
        item,
        mode,
        ...sumExposure(exposures, { ...scope, from, to }),
      }));
      const byMode = sums.map(({ item, mode, failures, hours }) => ({
        item,
        mode,
        failures,
        hours,
        rate: rateOf(failures, hours),
      }));
      const failures = failedItems(sums.flatMap(({ failed }) => failed));
      // Every mode of a tool type watches the same tool hours: of each type, the most that any one mode watched.
      const watched = new Map<string, number>();
      for (const { toolType, hours: own } of sums) watched.set(toolType, Math.max(own, watched.get(toolType) ?? 0));
      const hours = [...watched.values()].reduce((total, own) => total + own, 0);
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
      .map(({ exposures }) => sumExposure(exposures, scope));
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
