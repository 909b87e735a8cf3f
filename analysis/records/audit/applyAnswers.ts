import { keyOf, type Records, type Row, type TableName, tableDescriptors, tableNames } from "../descriptor.ts";
import { fieldOf, fitsField } from "./fitsField.ts";
import { hangingRows } from "./hangingRows.ts";
import { type AnswerFate, settleRow } from "./settleRow.ts";
import type { Answer, AuditedRecords, RefusedBecause } from "./types.ts";

/**
 * Records with the shop's answers applied: "correct" replaces one cell, "exclude" leaves out a row, "accept" changes
 * nothing, "reopen" takes back what was decided before. The records given are never changed, and rows no answer touches are the same objects.
 *
 * @param records  Canonical rows as the sheets have them, in any order.
 * @param answers  In any order; of one cell the latest by `when` stands, of equal times the later in the list.
 * @returns        Every answer in exactly one of `applied`, `superseded`, `stale` and `refused`, in order of `when`.
 *
 * Conventions  An answer holds while the sheet's value is `was`, or an earlier answer that still holds has made it so
 *              (corrected, then corrected again). Otherwise it is stale, as it is where the row is gone. `column` null
 *              speaks of the row as a whole; its `was` is the row's values, or null for whatever they are. Values are the
 *              same where their canonical data are; a field left out equals null.
 */
export function applyAnswers(records: Records, answers: readonly Answer[]): AuditedRecords<Records> {
  const sorted = answers
    .map((answer, index) => ({ answer, index }))
    .sort((a, b) => (a.answer.when < b.answer.when ? -1 : a.answer.when > b.answer.when ? 1 : a.index - b.index))
    .map(({ answer }) => answer);
  const refused: { answer: Answer; because: RefusedBecause }[] = [];
  const byRow = new Map<string, Answer[]>();
  for (const answer of sorted) {
    const because = refusalOf(answer);
    const place = placeOf(answer.table, answer.key);
    if (because !== null) refused.push({ answer, because });
    else if (byRow.has(place)) byRow.get(place)?.push(answer);
    else byRow.set(place, [answer]);
  }

  const fates = new Map<Answer, AnswerFate>();
  const excluded: { readonly answer: Answer; readonly row: object }[] = [];
  const answered = new Set([...byRow.values()].flatMap(([first]) => (first ? [first.table] : [])));
  const settleTable = <T extends TableName>(table: T): readonly Row<T>[] | undefined =>
    records[table]?.flatMap((row: Row<T>): readonly Row<T>[] => {
      const own = byRow.get(placeOf(table, keyOf(table, row)));
      if (own === undefined) return [row];
      const settled = settleRow(row, own);
      for (const [answer, fate] of settled.fates) if (fates.get(answer) !== "applied") fates.set(answer, fate);
      if (settled.excludedBy !== null) excluded.push({ answer: settled.excludedBy, row });
      return settled.excludedBy === null ? [settled.row] : [];
    });
  const changed = Object.fromEntries(
    tableNames
      .filter((table) => answered.has(table) && records[table] !== undefined)
      .map((table) => [table, settleTable(table)]),
  );
  const audited: Records = { ...records, ...changed };
  const unusable = new Set(refused.map(({ answer }) => answer));
  const judged = sorted.filter((answer) => !unusable.has(answer));
  const withFate = (fate: AnswerFate) => judged.filter((answer) => (fates.get(answer) ?? "stale") === fate);
  return {
    records: audited,
    applied: withFate("applied"),
    stale: withFate("stale"),
    superseded: withFate("superseded"),
    refused,
    hanging: hangingRows(audited, excluded),
  };
}

const placeOf = (table: TableName, key: string): string => `${table} ${key}`;

function refusalOf({ table, column, verdict, becomes }: Answer): RefusedBecause | null {
  if (column === null) return verdict === "correct" ? "no column named" : null;
  const field = fieldOf(table, column);
  if (field === undefined) return "no such column";
  if (verdict !== "correct") return null;
  if ((tableDescriptors[table].primaryKey as readonly string[]).includes(column)) return "key of the row";
  return fitsField(field, becomes) ? null : "does not fit the column";
}
