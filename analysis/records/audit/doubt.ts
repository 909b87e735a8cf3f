import { keyOf, type Row, type RowRef, type TableName } from "../descriptor.ts";
import type { AuditRow, AuditRule } from "./types.ts";

export const refOf = <T extends TableName>(table: T, row: Row<T>): RowRef => ({ table, key: keyOf(table, row) });

/** What a rule says about a cell or row beyond naming it. */
export interface DoubtDetails {
  readonly others?: readonly RowRef[];
  readonly facts?: AuditRow["facts"];
  readonly proposes?: unknown;
  /** Tells groups apart whose earliest rows are the same ("crew: crew 3"). */
  readonly group?: string;
}

/** An audit row about one cell, or about a whole row where `column` is null. */
export function doubt<T extends TableName>(
  rule: AuditRule,
  table: T,
  row: Row<T>,
  column: (keyof Row<T> & string) | null,
  { others = [], facts = {}, proposes = null, group }: DoubtDetails = {},
): AuditRow {
  const ref = refOf(table, row);
  return {
    id: JSON.stringify([rule, ref.table, ref.key, column, ...(group === undefined ? [] : [group])]),
    rule,
    row: ref,
    column,
    value: column === null ? row : (row[column] ?? null),
    others,
    facts,
    proposes,
  };
}
