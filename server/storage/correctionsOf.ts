import { type AnswerState, type AuditedRecords, applyAnswers, type Records } from "../../analysis/index.ts";
import { placeOf } from "./compareRows.ts";
import type { Answer, Correction, RowRef, TableName } from "./types.ts";

interface Valued extends RowRef {
  readonly values: Readonly<Record<string, unknown>>;
}

/** What was decided about each of these rows, oldest first, by place; rows nobody decided about are left out. */
export function correctionsOf(
  rows: readonly Valued[],
  answers: readonly Answer[],
): ReadonlyMap<string, readonly Correction[]> {
  const wanted = new Map(rows.map((row) => [placeOf(row), row]));
  const about = answers.filter((answer) => wanted.has(placeOf(answer)));
  const found = new Map<string, Correction[]>();
  for (const { answer, state } of statesOf(applyAnswers(recordsOfRows(rows), about), about)) {
    const place = placeOf(answer);
    const values = wanted.get(place)?.values ?? {};
    const { column } = answer;
    const sheetValue = column === null ? values : (values[column] ?? null);
    found.set(place, [...(found.get(place) ?? []), { answer, state, column, sheetValue }]);
  }
  return found;
}

/** Each answer with what became of it, in the order given. */
export function statesOf(
  { stale, superseded, refused }: AuditedRecords<unknown>,
  answers: readonly Answer[],
): readonly AnswerState[] {
  const states = new Map<Answer, AnswerState["state"]>([
    ...stale.map((answer) => [answer, "stale"] as const),
    ...superseded.map((answer) => [answer, "superseded"] as const),
    ...refused.map(({ answer }) => [answer, "refused"] as const),
  ]);
  return answers.map((answer) => ({ answer, state: states.get(answer) ?? "applied" }));
}

/** Rows gathered by table. */
export function recordsOfRows(rows: readonly Valued[]): Records {
  const byTable = new Map<TableName, Readonly<Record<string, unknown>>[]>();
  for (const { table, values } of rows) {
    const own = byTable.get(table);
    if (own === undefined) byTable.set(table, [values]);
    else own.push(values);
  }
  return Object.fromEntries(byTable) as Records;
}
