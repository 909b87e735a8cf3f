import type { Records, RowRef } from "../descriptor.ts";
import { applyAnswers } from "./applyAnswers.ts";
import { auditContext, type Rule } from "./auditContext.ts";
import { livesTouched, type RestingOnRows } from "./livesTouched.ts";
import { ageFalls } from "./rules/ageFalls.ts";
import { duplicateRun } from "./rules/duplicateRun.ts";
import { failedRefitted } from "./rules/failedRefitted.ts";
import { hoursExceedDates } from "./rules/hoursExceedDates.ts";
import { hoursHeaped } from "./rules/hoursHeaped.ts";
import { hoursMissing } from "./rules/hoursMissing.ts";
import { itemInTwoTools } from "./rules/itemInTwoTools.ts";
import { notTornDown } from "./rules/notTornDown.ts";
import { otherTooOften } from "./rules/otherTooOften.ts";
import { outButSilent } from "./rules/outButSilent.ts";
import { plannedOfFailed } from "./rules/plannedOfFailed.ts";
import { reasonNotWritten } from "./rules/reasonNotWritten.ts";
import { reportedLate } from "./rules/reportedLate.ts";
import { runsOverlap } from "./rules/runsOverlap.ts";
import { runWithoutBuild } from "./rules/runWithoutBuild.ts";
import { soundUnwritten } from "./rules/soundUnwritten.ts";
import { splitRun } from "./rules/splitRun.ts";
import { teardownOfAnother } from "./rules/teardownOfAnother.ts";
import { teardownWithoutRun } from "./rules/teardownWithoutRun.ts";
import { temperatureUnit } from "./rules/temperatureUnit.ts";
import { toolOutTwice } from "./rules/toolOutTwice.ts";
import { torqueNotWritten } from "./rules/torqueNotWritten.ts";
import { torqueUnit } from "./rules/torqueUnit.ts";
import { zeroHours } from "./rules/zeroHours.ts";
import { isSame } from "./settleRow.ts";
import type { Answer, AuditRow, AuditRule } from "./types.ts";

const rules: readonly Rule[] = [
  ageFalls,
  duplicateRun,
  failedRefitted,
  hoursExceedDates,
  hoursHeaped,
  hoursMissing,
  itemInTwoTools,
  notTornDown,
  otherTooOften,
  outButSilent,
  plannedOfFailed,
  reasonNotWritten,
  reportedLate,
  runsOverlap,
  runWithoutBuild,
  soundUnwritten,
  splitRun,
  teardownOfAnother,
  teardownWithoutRun,
  temperatureUnit,
  toolOutTwice,
  torqueNotWritten,
  torqueUnit,
  zeroHours,
];

/** Rules whose row stands for a group; it is accepted where any row of the group was accepted by that rule. */
const ofGroups: ReadonlySet<AuditRule> = new Set(["hours heaped", "other too often", "sound looks rarely written"]);

interface AuditOptions {
  /** All answers given so far; corrections and exclusions are applied first, accepted doubts are not raised again. */
  readonly answers?: readonly Answer[];
  /** With the lives, doubts that touch the most of them come first. */
  readonly lives?: readonly RestingOnRows[];
}

/**
 * Every doubt the rules have about a shop's records, each once. Order of rows never matters.
 *
 * @param records  Canonical rows as the sheets have them, without any answer applied.
 * @returns        Sorted by lives touched (where `lives` are given), then by rule and place.
 *
 * Conventions  An accepted doubt comes back when its value changes, or when a later answer of the cell stands instead. An answer whose `rule` is null settles every doubt
 *              about its cell. A row without a readable date is passed over: the mapping has set it aside.
 */
export function auditRecords(records: Records, { answers = [], lives }: AuditOptions = {}): readonly AuditRow[] {
  const { records: audited, superseded } = applyAnswers(records, answers);
  const context = auditContext(audited);
  const overruled = new Set(superseded);
  const accepted = acceptedBy(answers.filter((answer) => !overruled.has(answer)));
  const rows = new Map<string, AuditRow>();
  for (const rule of rules)
    for (const row of rule(context)) if (!rows.has(row.id) && !accepted(row)) rows.set(row.id, row);
  const touched = lives === undefined ? null : livesTouched([...rows.values()], lives);
  const count = (row: AuditRow) => touched?.get(row.id)?.length ?? 0;
  return [...rows.values()].sort((a, b) => count(b) - count(a) || (a.id < b.id ? -1 : 1));
}

function acceptedBy(answers: readonly Answer[]): (row: AuditRow) => boolean {
  const accepts = new Map<string, Answer[]>();
  for (const answer of answers) {
    if (answer.verdict !== "accept") continue;
    const cell = cellKey(answer, answer.column);
    accepts.set(cell, [...(accepts.get(cell) ?? []), answer]);
  }
  const settled = (row: AuditRow, ref: RowRef, isSame: (was: unknown) => boolean) =>
    (accepts.get(cellKey(ref, row.column)) ?? []).some(
      ({ rule, was }) => (rule === row.rule || (rule === null && ref === row.row)) && isSame(was),
    );
  return (row) =>
    settled(row, row.row, (was) => isSame(row.column, was, row.value)) ||
    (ofGroups.has(row.rule) && row.others.some((other) => settled(row, other, () => true)));
}

const cellKey = ({ table, key }: RowRef, column: string | null): string => JSON.stringify([table, key, column]);
