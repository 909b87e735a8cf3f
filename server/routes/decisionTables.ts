/** Decisions as tables: the numbers of a result in rows and columns, units in the headers, nothing computed. */
import {
  type FleetResult,
  type RedressIntervalResult,
  sayFleetReason,
  sinceColumns,
  sinceRows,
} from "../../analysis/index.ts";
import type { CsvTable } from "./sendCsv.ts";

export function redressIntervalTable(
  result: RedressIntervalResult,
  table: "curve" | "modes" | "heat" | "since",
): CsvTable {
  if (table === "heat") return heatTable(result);
  if (table === "since") return sinceTable(result);
  return table === "curve" ? curveTable(result) : modesTable(result);
}

function curveTable({ curves, currency }: RedressIntervalResult): CsvTable {
  const cost = `cost per 1,000 h (${currency ?? "planned redresses"})`;
  return {
    headers: [
      "interval h",
      cost,
      "cost lower",
      "cost upper",
      "chance of a stopped job before it",
      "chance lower",
      "chance upper",
      "chance in a run begun at that age",
      "run chance lower",
      "run chance upper",
    ],
    rows: curves.age.map((age, at) => [
      age,
      ...[curves.costRate, curves.stoppedBefore, curves.nextRun].flatMap(({ value, lower, upper }) => [
        value[at],
        lower[at],
        upper[at],
      ]),
    ]),
  };
}

/** Empty where no decision holds. */
function sinceTable({ sinceDecided }: RedressIntervalResult): CsvTable {
  return {
    headers: sinceColumns.map(({ title }) => title),
    rows: sinceRows(sinceDecided).map((row) => sinceColumns.map(({ value }) => value(row))),
  };
}

/** Empty where the next well's temperature was not given. */
function heatTable({ heat }: RedressIntervalResult): CsvTable {
  return {
    headers: [
      "well degC",
      "redress by h",
      "redress by beyond grid",
      "begin the run by h",
      "begin beyond grid",
      "interval of least cost h",
    ],
    rows: (heat?.byTemperature ?? []).map(({ celsius, beforeRedress, nextRun, optimum }) => [
      celsius,
      beforeRedress.age,
      String(beforeRedress.beyondGrid),
      nextRun.age,
      String(nextRun.beyondGrid),
      optimum,
    ]),
  };
}

function modesTable({ modes, currency }: RedressIntervalResult): CsvTable {
  const money = currency ?? "planned redresses";
  return {
    headers: [
      "item",
      "mode",
      "defect before it",
      "acts as",
      "law",
      "lives",
      "failures",
      "shape",
      "shape lower",
      "shape upper",
      "scale h",
      "scale lower h",
      "scale upper h",
      "longest age h",
      `cost where it stops a job (${money})`,
      `cost where it is found in the shop (${money})`,
      "stops a job per cycle",
      "found per cycle",
      "share of the cost of a cycle",
    ],
    rows: modes.map((row) => [
      row.item,
      row.mode,
      row.defect,
      row.kind,
      row.law,
      row.lives,
      row.failures,
      row.shape.value,
      row.shape.lower,
      row.shape.upper,
      row.scale.value,
      row.scale.lower,
      row.scale.upper,
      row.longestAge,
      row.stops?.amount ?? null,
      row.found?.amount ?? null,
      row.perCycle.stops,
      row.perCycle.found,
      row.perCycle.costShare,
    ]),
  };
}

export function fleetTable({ tools }: FleetResult): CsvTable {
  return {
    headers: [
      "serial",
      "tool type",
      "size in",
      "status",
      "status on",
      "location",
      "reading",
      "why",
      "hours since redress",
      "next run h",
      "next run is",
      "next well degC",
      "chance in it",
      "chance lower",
      "chance upper",
      "hours left under the allowed chance",
      "last run on",
    ],
    rows: tools.map((tool) => [
      tool.serial,
      tool.toolType,
      tool.sizeIn,
      tool.status,
      tool.statusOn,
      tool.location,
      tool.reading,
      tool.reasons.map(sayFleetReason).join(" "),
      tool.hoursSinceRedress,
      tool.nextRun.hours,
      tool.nextRun.source,
      tool.nextRun.celsius,
      tool.chance.value,
      tool.chance.lower,
      tool.chance.upper,
      tool.hoursLeft,
      tool.lastRunOn,
    ]),
  };
}
