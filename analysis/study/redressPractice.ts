import { dayOf } from "../lives/calendar.ts";
import { type ClockRun, clockRuns } from "../lives/clockRuns.ts";
import type { ItemMode } from "../lives/episodes.ts";
import type { Row } from "../records/descriptor.ts";
import { livesDefinition } from "./definition.ts";
import { settledAge } from "./settleAges.ts";
import type { ShopData } from "./shopData.ts";
import type { StudyDefinition } from "./types.ts";

/** One redress of a tool in scope that had run before, and the hours it ran since the redress before. */
export interface PastRedress {
  readonly redress: Row<"redresses">;
  readonly hours: number;
  /** Hours since the redress before at each return to the shop, the last one just before this redress. */
  readonly returns: readonly number[];
}

/** What the shop does: its runs, its redresses, what it renews. Of the tool type, size and serial in scope. */
export interface RedressPractice {
  readonly redresses: readonly PastRedress[];
  /** Counted runs, oldest first within a tool. */
  readonly runs: readonly { readonly run: Row<"runs">; readonly hours: number }[];
  /** Share of the planned redresses that restored a mode of an item; of all redresses where none was planned. */
  readonly restoredShare: (item: string, mode: Pick<ItemMode, "restoredBy">) => number;
}

export function redressPractice(data: ShopData, definition: StudyDefinition, toolType: string): RedressPractice {
  const { records, derived } = data;
  const { sizeIn, serial } = definition.scope;
  const { cutoff } = derived;
  const serials = new Set(
    (records.tools ?? [])
      .filter(
        (tool) =>
          tool.tool_type === toolType &&
          (sizeIn === null || tool.size_in === sizeIn) &&
          (serial === null || tool.serial === serial),
      )
      .map((tool) => tool.serial),
  );
  const { bySerial } = clockRuns(records, livesDefinition({ ...definition, cutoff }), dayOf(cutoff));
  const own = [...bySerial].filter(([name]) => serials.has(name));
  const hoursOf = ({ hours }: ClockRun): number => settledAge([hours.low, hours.high], data.hoursPerDay);
  const redressesOf = groupBySerial((records.redresses ?? []).filter(({ done_on }) => done_on <= cutoff));
  const redresses = own.flatMap(([name, runs]) => redressesBetween(redressesOf.get(name) ?? [], runs, hoursOf));

  const planned = redresses.filter(({ redress }) => redress.reason === "planned");
  const usual = new Set((planned.length > 0 ? planned : redresses).map(({ redress }) => redress.redress));
  const renewed = tally(
    (records.fitted_items ?? []).filter((row) => row.renewed && usual.has(row.redress)).map(({ item }) => item),
  );
  const madeUp = tally((records.joints ?? []).filter((row) => usual.has(row.redress)).map(({ joint }) => joint));
  return {
    redresses,
    runs: own.flatMap(([, runs]) => runs.map((one) => ({ run: one.run, hours: hoursOf(one) }))),
    restoredShare: (item, { restoredBy }) => {
      const count = Math.max(renewed.get(item) ?? 0, restoredBy === "made up" ? (madeUp.get(item) ?? 0) : 0);
      return usual.size === 0 ? 0 : count / usual.size;
    },
  };
}

/** Redresses of one tool with the hours run since the one before; those with no run in between are left out. */
function redressesBetween(
  redresses: readonly Row<"redresses">[],
  runs: readonly ClockRun[],
  hoursOf: (run: ClockRun) => number,
): PastRedress[] {
  const ordered = [...redresses].sort((a, b) => (a.done_on < b.done_on ? -1 : a.done_on > b.done_on ? 1 : 0));
  return ordered.flatMap((redress, place): PastRedress[] => {
    const before = ordered[place - 1];
    if (before === undefined) return [];
    const [from, to] = [dayOf(before.done_on), dayOf(redress.done_on)];
    const between = runs.filter(({ outDay, inDay }) => outDay >= from && inDay <= to);
    let hours = 0;
    const returns = between.map((run) => {
      hours += hoursOf(run);
      return hours;
    });
    return between.length === 0 ? [] : [{ redress, hours, returns }];
  });
}

function groupBySerial(rows: readonly Row<"redresses">[]): Map<string, Row<"redresses">[]> {
  const groups = new Map<string, Row<"redresses">[]>();
  for (const row of rows) {
    const group = groups.get(row.serial);
    if (group) group.push(row);
    else groups.set(row.serial, [row]);
  }
  return groups;
}

function tally(values: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return counts;
}
