import {
  type AnswerState,
  type CellStep,
  type FieldDescriptor,
  sameValue,
  tableDescriptors,
} from "../../analysis/index.ts";
import type { HistoryStep } from "./readHistory.ts";
import type { TableName } from "./types.ts";

/**
 * What became of the cells of a row, oldest first: what each drop, form and undo brought, and what was decided beside it.
 * A row that comes or goes is one step about the row as a whole; later versions give one step a cell that differs.
 *
 * @param field  only this cell; its first value is then told, too, and what befell the row as a whole stays.
 */
export function cellSteps(
  table: TableName,
  history: readonly HistoryStep[],
  answers: readonly AnswerState[],
  field: string | null,
): readonly CellStep[] {
  const fields: readonly FieldDescriptor[] = tableDescriptors[table].fields;
  const wanted = fields.map(({ name }) => name).filter((name) => field === null || name === field);
  const steps = history.flatMap((step, index): CellStep[] => {
    const { version, batch, when, who, why, undoes } = step;
    const before = history[index - 1]?.version ?? null;
    const by: CellStep["by"] =
      undoes === null
        ? { kind: "drop", batch, origin: version?.origin ?? null }
        : { kind: "undo", batch, undoes, origin: version?.origin ?? null };
    const whole = (row: NonNullable<CellStep["row"]>): CellStep => ({
      field: null,
      row,
      was: null,
      becomes: null,
      by,
      who,
      when,
      why,
    });
    if (version === null) return [whole("taken out")];
    const cells = wanted
      .map((name) => ({ field: name, was: before?.values[name] ?? null, becomes: version.values[name] ?? null }))
      .filter(({ was, becomes }) => !sameValue(was, becomes))
      .map((cell): CellStep => ({ ...cell, by, who, when, why }));
    if (before !== null) return cells;
    return [whole(index === 0 ? "brought in" : "brought back"), ...(field === null ? [] : cells)];
  });
  const decided = answers
    .filter(({ answer }) => field === null || answer.column === null || answer.column === field)
    .map(({ answer, state }): CellStep => {
      const { column, was, becomes, verdict, rule, who, when, why } = answer;
      return { field: column, was, becomes, by: { kind: "answer", verdict, rule, state }, who, when, why };
    });
  // Stable: steps of one moment stay in the order in which they were stored, drops before what was decided about them.
  return [...steps, ...decided].sort((a, b) => (a.when < b.when ? -1 : a.when > b.when ? 1 : 0));
}
