// Which doubt each planted fault of the invented fleet should raise, and which faults nothing in the records can show.

import type { AuditRow, AuditRule } from "../../../../analysis/records/audit/types.ts";
import { keyOf, type Row } from "../../../../analysis/records/descriptor.ts";
import type { PlantedFault } from "../../../../datasets/sample-fleet/generator/plantFaults.ts";
import type { Fleet } from "../../../../datasets/sample-fleet/generator/simulateFleet.ts";

export interface Expected {
  readonly fault: PlantedFault;
  readonly rule: AuditRule;
  /** `table key column` of the doubt; of a group rule any row of the group will do. */
  readonly place: string;
  /** Why the records cannot show it; null where they can. */
  readonly hidden: string | null;
}

export type Kind = PlantedFault["kind"];

/** Faults that are true as written and settled by the derivation, with what it makes of them. */
export const noDoubt: Readonly<Partial<Record<Kind, string>>> = {
  "hour not noted": "true as written; the life ends in an interval, run start to run end",
  "tool failure, no item named": "true as written; a tool event with masked cause",
  "item swapped": "true as written; the item serial carries the age along",
  "in use before the records": "true as written; mid-life entry",
  "lost in hole": "true as written; right-censored at the start of the run",
  "build failed its test": "true as written; a build reject, counted apart",
};

const simple: Readonly<Partial<Record<Kind, readonly [rule: AuditRule, column: string | null]>>> = {
  "hours missing": ["hours missing", "hours"],
  "zero hours": ["zero hours of a long run", "hours"],
  "torque as text": ["torque not written", "final_torque_Nm"],
  "N·m in a ft-lbf column": ["torque unit suspect", "final_torque_Nm"],
  "degC in a degF column": ["temperature unit suspect", "max_temperature_C"],
  "duplicate run": ["duplicate run", null],
  "serial swapped": ["teardown of another serial suspected", "serial"],
  "late report": ["failure reported late", "reported_on"],
  "failed item refitted": ["failed item refitted", "severity"],
};
const grouped: Readonly<Partial<Record<Kind, AuditRule>>> = {
  "heaped hours": "hours heaped",
  "other by habit": "other too often",
};

export const placeOf = (table: string, key: string, column: string | null): string => `${table} ${key} ${column}`;

/** The doubt each fault of a fleet should raise; one entry a fault that is a fault. */
export function expectedDoubts(fleet: Fleet): readonly Expected[] {
  return fleet.planted.flatMap((fault) => {
    const { kind, row, change } = fault;
    const one = (rule: AuditRule, place: string, hidden: string | null = null): Expected[] => [
      { fault, rule, place, hidden },
    ];
    const plain = simple[kind];
    if (plain) return one(plain[0], placeOf(row.table, row.key, plain[1]));
    const group = grouped[kind];
    if (group) return one(group, placeOf(row.table, row.key, fault.column));
    if (kind === "reason blank") return one("reason not written", placeOf(row.table, row.key, fault.column));
    if (kind === "split run") return change === "row added" ? one("split run", placeOf("runs", row.key, null)) : [];
    if (kind === "never torn down")
      return one("returned, not torn down", placeOf("runs", row.key, null), tooNew(fleet, row.key));
    if (kind === "leaking tool coded planned")
      return one("planned redress of a failed tool", placeOf("teardowns", row.key, "why"), notOpened(fleet, row.key));
    if (kind === "run missing") return missingRun(fleet, row.key, one);
    if (kind === "build missing") return row.table === "redresses" ? missingBuild(fleet, row.key, one) : [];
    if (noDoubt[kind] !== undefined) return [];
    throw new Error(`no expectation for ${kind}`);
  });
}

/** All places a doubt speaks of: of a group every row of it. */
export function placesOf({ rule, row, others, column }: AuditRow): readonly string[] {
  const all = Object.values(grouped).includes(rule) ? [row, ...others] : [row];
  return all.map(({ table, key }) => placeOf(table, key, column));
}

type One = (rule: AuditRule, place: string, hidden?: string | null) => Expected[];

function tooNew({ recorded, options }: Fleet, key: string): string | null {
  const run = recorded.runs?.find((row) => keyOf("runs", row) === key);
  const days = (Date.parse(options.to) - Date.parse(run?.in_on ?? options.to)) / 86_400_000;
  return days <= 63 ? "came in too shortly before the records end to tell it from a tool resting" : null;
}

function notOpened({ recorded }: Fleet, key: string): string | null {
  const [teardown] = JSON.parse(key) as [string];
  const leak = recorded.findings?.some(
    (row) => row.teardown === teardown && (row.condition === "leak" || row.condition === "shoulder leak"),
  );
  return leak ? null : "the leaking joint was not opened at this teardown, so no finding tells of it";
}

function missingRun(fleet: Fleet, key: string, one: One): Expected[] {
  const run = fleet.records.runs?.find((row) => keyOf("runs", row) === key);
  const after = inTime(fleet.recorded.teardowns, (row) => row.done_on).find(
    (row) => row.serial === run?.serial && row.kind === "stripped" && row.done_on >= (run?.in_on ?? ""),
  );
  if (!after) return one("teardown without run", "", "no teardown followed before the records end");
  return one("teardown without run", placeOf("teardowns", keyOf("teardowns", after), null));
}

function missingBuild(fleet: Fleet, key: string, one: One): Expected[] {
  const build = fleet.records.redresses?.find((row) => keyOf("redresses", row) === key);
  const next = inTime(fleet.records.redresses, (row) => row.done_on).find(
    (row) => row.serial === build?.serial && row.redress > build.redress,
  );
  const run = inTime(fleet.recorded.runs, (row) => row.out_on).find(
    (row) => row.serial === build?.serial && row.out_on >= build.done_on && row.out_on < (next?.done_on ?? "9999"),
  );
  if (!run) return one("run without build", "", "the build made no run before the next one, or before the records end");
  return one("run without build", placeOf("runs", keyOf("runs", run), null));
}

const inTime = <R extends Row<"teardowns"> | Row<"redresses"> | Row<"runs">>(
  rows: readonly R[] | undefined,
  date: (row: R) => string,
): readonly R[] => [...(rows ?? [])].sort((a, b) => (date(a) < date(b) ? -1 : date(a) > date(b) ? 1 : 0));

/** Why a doubt that no planted fault explains is raised all the same; null where nothing explains it. */
export function explainExtra(fleet: Fleet, doubt: AuditRow): string | null {
  if (doubt.rule === "torque unit suspect") {
    const ratio = Number(doubt.facts.written) / Number(doubt.facts.usual);
    return ratio > 0.695 && ratio < 0.8
      ? `torque truly ${ratio < 0.705 ? "0.70" : "0.71 to 0.80"} of its target`
      : ratio > 1.2 && ratio < 1.45
        ? "torque truly 1.2 to 1.45 times its target"
        : null;
  }
  if (doubt.rule === "planned redress of a failed tool") {
    const before = fleet.planted.some(
      ({ kind, row }) =>
        (kind === "leaking tool coded planned" && notOpened(fleet, row.key) !== null) ||
        (kind === "tool failure, no item named" && row.table === "runs"),
    );
    return before ? "true: a leak of a joint that was not opened at its first teardown, found at the next" : null;
  }
  if (doubt.rule === "out but silent" && fleet.options.dirt.lateReports)
    return "true: a report so late that it had not come in when the records end";
  return null;
}
