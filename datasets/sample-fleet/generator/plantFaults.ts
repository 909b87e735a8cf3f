/** Plants the faults of a shop's record keeping (FleetDirt) into a copy of the records, and lists each of them. */
import { keyOf, type Records, type Row, type RowRef, type TableName } from "../../../analysis/records/descriptor.ts";
import type { Happened } from "./book.ts";
import { dateOf, dayOf } from "./days.ts";
import type { FleetOptions } from "./options.ts";
import { type Draw, randomStream } from "./random.ts";
import { placeOf } from "./sheetTypes.ts";
import { fahrenheit, footPounds } from "./shopUnits.ts";

export type FaultKind =
  | "hours missing"
  | "zero hours"
  | "heaped hours"
  | "torque as text"
  | "N·m in a ft-lbf column"
  | "degC in a degF column"
  | "duplicate run"
  | "split run"
  | "run missing"
  | "build missing"
  | "serial swapped"
  | "reason blank"
  | "other by habit";

export interface PlantedFault {
  readonly kind: Happened["kind"] | FaultKind;
  readonly row: RowRef;
  /** `none`: true as written, and listed because it makes the records hard to read. */
  readonly change: "none" | "value" | "row added" | "row missing";
  readonly column: string | null;
  readonly was: string | number | null;
  readonly becomes: string | number | null;
  /** What stands in the cell, where it is no value of the column. */
  readonly written: string | null;
}

type Run = Row<"runs">;

/** Collects the faults as they are planted. */
class Planting {
  readonly planted: PlantedFault[] = [];

  note(
    kind: FaultKind,
    table: TableName,
    key: string,
    change: PlantedFault["change"],
    cell: Partial<PlantedFault> = {},
  ): void {
    const { column = null, was = null, becomes = null, written = null } = cell;
    this.planted.push({ kind, row: { table, key }, change, column, was, becomes, written });
  }

  value<T extends TableName, C extends keyof Row<T> & string>(
    kind: FaultKind,
    table: T,
    row: Row<T>,
    column: C,
    becomes: Row<T>[C] & (string | number | null),
    written: string | null = null,
  ): Row<T> {
    const was = row[column];
    const plain = typeof was === "string" || typeof was === "number" ? was : null;
    this.note(kind, table, keyOf(table, row), "value", { column, was: plain, becomes, written });
    return { ...row, [column]: becomes };
  }
}

/** @param records  what a perfect clerk would have written; left as it is. */
export function plantFaults(
  records: Records,
  options: FleetOptions,
  happened: readonly Happened[],
): { readonly recorded: Records; readonly planted: readonly PlantedFault[] } {
  const planting = new Planting();
  for (const fact of happened) {
    planting.planted.push({ ...fact, change: "none", column: null, was: null, becomes: null, written: null });
  }
  if (Object.values(options.dirt).every((on) => !on)) return { recorded: records, planted: planting.planted };

  const without = leaveOut(records, options, planting);
  const recorded: Records = {
    ...without,
    runs: runFaults(without.runs ?? [], options, planting),
    joints: jointFaults(without, options, planting),
    redresses: blankReasons(without.redresses ?? [], options, planting),
    teardowns: swapSerials(without, options, planting),
  };
  const missing = new Set(
    planting.planted.filter((fault) => fault.change === "row missing").map(({ row }) => placeOf(row)),
  );
  const planted = planting.planted.filter((fault) => fault.change !== "none" || !missing.has(placeOf(fault.row)));
  return { recorded, planted };
}

/** Teardown without run, run without build: whole rows that never came in. */
function leaveOut(records: Records, { dirt, seed }: FleetOptions, planting: Planting): Records {
  const draw = randomStream(seed, "faults/missing rows");
  const runs = new Set<string>();
  const builds = new Set<string>();
  const redresses = records.redresses ?? [];
  for (const [index, redress] of redresses.entries()) {
    const drawn = draw.uniform();
    if (index < 20) continue;
    if (drawn < 0.004 && dirt.buildsMissing) builds.add(redress.redress);
    else if (drawn > 0.995 && dirt.runsMissing) {
      const next = redresses.find((other) => other.serial === redress.serial && other.done_on > redress.done_on);
      const until = next?.done_on ?? "9999";
      const between = (records.runs ?? []).filter(
        (run) => run.serial === redress.serial && run.out_on >= redress.done_on && run.out_on < until,
      );
      if (between.every((run) => run.in_on && run.pulled_because !== "tool failure"))
        for (const run of between) runs.add(run.run);
    }
  }
  const keep = <T extends "runs" | "redresses" | "joints" | "fitted_items">(
    table: T,
    kind: FaultKind,
    rows: readonly Row<T>[],
    missing: (row: Row<T>) => boolean,
  ): readonly Row<T>[] =>
    rows.filter((row) => {
      if (missing(row)) planting.note(kind, table, keyOf(table, row), "row missing");
      return !missing(row);
    });
  return {
    ...records,
    runs: keep("runs", "run missing", records.runs ?? [], (row) => runs.has(row.run)),
    redresses: keep("redresses", "build missing", redresses, (row) => builds.has(row.redress)),
    joints: keep("joints", "build missing", records.joints ?? [], (row) => builds.has(row.redress)),
    fitted_items: keep("fitted_items", "build missing", records.fitted_items ?? [], (row) => builds.has(row.redress)),
  };
}

function runFaults(runs: readonly Run[], { dirt, seed }: FleetOptions, planting: Planting): readonly Run[] {
  const draw = randomStream(seed, "faults/runs");
  return runs.flatMap((run) => {
    const drawn = draw.uniform();
    const heaps = draw.chance(0.4) && run.crew === "crew 3";
    const habit = draw.chance(0.5) && run.crew === "crew 2";
    const { in_on, hours, max_temperature_C: celsius } = run;
    if (in_on == null || hours == null || celsius == null) return [run];
    const days = dayOf(in_on) - dayOf(run.out_on);
    const plain = run.pulled_because !== "tool failure" && run.pulled_because !== "lost in hole";
    if (drawn < 0.02 && dirt.missingHours) return [planting.value("hours missing", "runs", run, "hours", null)];
    if (drawn < 0.03 && dirt.zeroHours && days >= 3 && plain)
      return [planting.value("zero hours", "runs", run, "hours", 0)];
    if (drawn < 0.037 && dirt.celsius) {
      const written = Math.round(celsius);
      const column = "max_temperature_C";
      return [planting.value("degC in a degF column", "runs", run, column, fahrenheit(written))];
    }
    if (drawn < 0.042 && dirt.duplicateRuns) {
      const again: Run = { ...run, run: `${run.run}/2` };
      planting.note("duplicate run", "runs", keyOf("runs", again), "row added");
      return [run, again];
    }
    if (drawn < 0.056 && dirt.splitRuns && plain && days >= 4) return splitRun(run, in_on, hours, draw, planting);
    if (drawn < 0.075 && dirt.blankReasons && run.pulled_because === "planned") {
      return [planting.value("reason blank", "runs", run, "pulled_because", "not known")];
    }
    if (habit && dirt.habitOther && (run.pulled_because === "hole problem" || run.pulled_because === "other tool")) {
      return [planting.value("other by habit", "runs", run, "pulled_because", "other")];
    }
    const heaped = Math.max(10, Math.round(hours / 10) * 10);
    if (heaps && dirt.heapedHours && plain && heaped !== hours) {
      return [planting.value("heaped hours", "runs", run, "hours", heaped)];
    }
    return [run];
  });
}

/** One run written as two that follow each other in the same well. */
function splitRun(run: Run, inOn: string, hours: number, draw: Draw, planting: Planting): readonly Run[] {
  const first = Math.max(0.5, Math.round(hours * draw.between(0.3, 0.7) * 2) / 2);
  const turn = dateOf(dayOf(run.out_on) + Math.round((dayOf(inOn) - dayOf(run.out_on)) / 2));
  const before = planting.value("split run", "runs", run, "hours", first);
  const earlier = planting.value("split run", "runs", before, "in_on", turn);
  const cut =
    run.pulled_because === "other" ? earlier : planting.value("split run", "runs", earlier, "pulled_because", "other");
  const rest: Run = { ...run, run: `${run.run}B`, out_on: turn, hours: hours - first };
  planting.note("split run", "runs", keyOf("runs", rest), "row added");
  return [cut, rest];
}

function jointFaults(records: Records, { dirt, seed }: FleetOptions, planting: Planting): readonly Row<"joints">[] {
  const draw = randomStream(seed, "faults/joints");
  const builds = new Map((records.redresses ?? []).map((row) => [row.redress, row]));
  return (records.joints ?? []).map((joint) => {
    const asText = draw.chance(0.02);
    const torque = joint.final_torque_Nm;
    if (torque == null) return joint;
    const build = builds.get(joint.redress);
    const metricSpell = build?.technician === "tech 5" && build.done_on >= "2025-03-01" && build.done_on < "2025-08-01";
    if (dirt.newtonMetres && metricSpell && joint.torque_tool === "TM-2") {
      const written = footPounds(Math.round(torque));
      return planting.value("N·m in a ft-lbf column", "joints", joint, "final_torque_Nm", written);
    }
    if (dirt.torqueAsText && asText) {
      return planting.value("torque as text", "joints", joint, "final_torque_Nm", null, "good tight");
    }
    return joint;
  });
}

function blankReasons(
  rows: readonly Row<"redresses">[],
  { dirt, seed }: FleetOptions,
  planting: Planting,
): readonly Row<"redresses">[] {
  const draw = randomStream(seed, "faults/reasons");
  return rows.map((row) => {
    const blank = draw.chance(0.02);
    if (!blank || !dirt.blankReasons || row.reason !== "planned") return row;
    return planting.value("reason blank", "redresses", row, "reason", "not known");
  });
}

function swapSerials(records: Records, { dirt, seed }: FleetOptions, planting: Planting): readonly Row<"teardowns">[] {
  const draw = randomStream(seed, "faults/serials");
  const serials = (records.tools ?? []).map((tool) => tool.serial);
  return (records.teardowns ?? []).map((row) => {
    const swapped = draw.chance(0.004);
    const alike = serials.filter((serial) => serial !== row.serial && serial.slice(0, 5) === row.serial.slice(0, 5));
    if (!swapped || !dirt.swappedSerials || row.kind !== "stripped" || alike.length === 0) return row;
    return planting.value("serial swapped", "teardowns", row, "serial", draw.pick(alike));
  });
}
