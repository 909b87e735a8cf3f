import type { Records, Row } from "../descriptor.ts";
import { dayNumber } from "./dayNumber.ts";
import { compareNumbers, inOrder } from "./inOrder.ts";

export interface ShopRun {
  readonly run: Row<"runs">;
  readonly outDay: number;
  /** Null while the tool is still out. */
  readonly inDay: number | null;
}

export interface ShopLook {
  readonly teardown: Row<"teardowns">;
  readonly day: number;
  /** Taken apart: neither a pressure test nor a look from outside. */
  readonly stripped: boolean;
}

export interface ShopRedress {
  readonly redress: Row<"redresses">;
  readonly day: number;
}

/** All that is written down about one serial, each list in order of time. */
export interface ToolStory {
  readonly serial: string;
  readonly tool: Row<"tools"> | null;
  readonly runs: readonly ShopRun[];
  readonly looks: readonly ShopLook[];
  readonly redresses: readonly ShopRedress[];
}

/** Records arranged for the audit. Rows without a readable date are in no story: the mapping has set them aside. */
export interface AuditShop {
  readonly records: Records;
  /** By serial, in order of the serials. */
  readonly stories: ReadonlyMap<string, ToolStory>;
  readonly redressOf: ReadonlyMap<string, Row<"redresses">>;
  readonly fittedOf: ReadonlyMap<string, readonly Row<"fitted_items">[]>;
  readonly jointsOf: ReadonlyMap<string, readonly Row<"joints">[]>;
  readonly findingsOf: ReadonlyMap<string, readonly Row<"findings">[]>;
  /** The mode of a finding by tool and item: of the item itself, else of its kind. */
  readonly modeOf: (serial: string, item: string, mode: string) => Row<"modes"> | null;
  /** Latest day of a run, look or redress; NaN without any. */
  readonly latestDay: number;
}

/** Arranges records by serial and in order of time. On one date: run in, teardown, redress, run out. */
export function auditShop(records: Records): AuditShop {
  const day = dayNumber;
  const runs = inOrder(
    (records.runs ?? []).filter((run) => !Number.isNaN(day(run.out_on))),
    (run) => [day(run.out_on), day(run.in_on)],
    (run) => run.run,
  );
  const looks = inOrder(
    (records.teardowns ?? []).filter((row) => !Number.isNaN(day(row.done_on))),
    (row) => [day(row.done_on)],
    (row) => row.teardown,
  );
  const redresses = inOrder(
    (records.redresses ?? []).filter((row) => !Number.isNaN(day(row.done_on))),
    (row) => [day(row.done_on)],
    (row) => row.redress,
  );
  const tools = new Map((records.tools ?? []).map((tool) => [tool.serial, tool]));
  const runsOf = grouped(runs, (run) => run.serial);
  const looksOf = grouped(looks, (row) => row.serial);
  const redressesOf = grouped(redresses, (row) => row.serial);
  const serials = [...new Set([...tools.keys(), ...runsOf.keys(), ...looksOf.keys(), ...redressesOf.keys()])];

  let latestDay = Number.NaN;
  const see = (later: number) => {
    if (!(later <= latestDay) && !Number.isNaN(later)) latestDay = later;
  };
  for (const run of runs) see(run.in_on == null ? day(run.out_on) : day(run.in_on));
  for (const row of looks) see(day(row.done_on));
  for (const row of redresses) see(day(row.done_on));

  return {
    records,
    stories: new Map(
      serials.sort(compareNumbers).map((serial) => [
        serial,
        {
          serial,
          tool: tools.get(serial) ?? null,
          runs: (runsOf.get(serial) ?? []).map((run) => {
            const inDay = day(run.in_on);
            return { run, outDay: day(run.out_on), inDay: Number.isNaN(inDay) ? null : inDay };
          }),
          looks: (looksOf.get(serial) ?? []).map((teardown) => ({
            teardown,
            day: day(teardown.done_on),
            stripped: teardown.kind !== "pressure test" && teardown.kind !== "outside only",
          })),
          redresses: (redressesOf.get(serial) ?? []).map((redress) => ({ redress, day: day(redress.done_on) })),
        },
      ]),
    ),
    redressOf: new Map(redresses.map((row) => [row.redress, row])),
    fittedOf: grouped(
      records.fitted_items ?? [],
      (row) => row.redress,
      (row) => row.item,
    ),
    jointsOf: grouped(
      records.joints ?? [],
      (row) => row.redress,
      (row) => row.joint,
    ),
    findingsOf: grouped(
      records.findings ?? [],
      (row) => row.teardown,
      (row) => `${row.item}\u0000${row.condition}`,
    ),
    modeOf: modeFinder(records, tools),
    latestDay,
  };
}

/** Rows by group, in the order given or by a part of their key. */
function grouped<R>(rows: readonly R[], by: (row: R) => string, order?: (row: R) => string): Map<string, R[]> {
  const groups = new Map<string, R[]>();
  for (const row of rows) {
    const group = groups.get(by(row));
    if (group) group.push(row);
    else groups.set(by(row), [row]);
  }
  if (order !== undefined)
    for (const group of groups.values()) group.sort((a, b) => (order(a) < order(b) ? -1 : order(a) > order(b) ? 1 : 0));
  return groups;
}

function modeFinder(records: Records, tools: ReadonlyMap<string, Row<"tools">>): AuditShop["modeOf"] {
  const place = (first: string, second: string) => JSON.stringify([first, second]);
  const kinds = new Map((records.tool_items ?? []).map((row) => [place(row.tool_type, row.item), row.kind]));
  const modes = new Map((records.modes ?? []).map((row) => [place(row.item, row.mode), row]));
  return (serial, item, mode) => {
    const kind = kinds.get(place(tools.get(serial)?.tool_type ?? "", item));
    return modes.get(place(item, mode)) ?? (kind === undefined ? null : (modes.get(place(kind, mode)) ?? null));
  };
}
