/** Doubts about records, and what the shop answered. Corrections stand beside originals; nothing is overwritten. */
import type { RowRef, TableName } from "../descriptor.ts";

export type AuditRule =
  | "runs overlap"
  | "hours exceed dates"
  | "zero hours of a long run"
  | "hours missing"
  | "age falls without a restoration"
  | "serial in two places"
  | "teardown without run"
  | "run without build"
  | "torque unit suspect"
  | "temperature unit suspect"
  | "hours heaped"
  | "duplicate run"
  | "split run"
  | "planned redress of a failed tool"
  | "other too often"
  | "sound looks rarely written"
  | "failure reported late"
  | "out but silent"
  | "teardown of another serial suspected"
  | "reason not written";

/** One doubt about one cell, row or group of rows. */
export interface AuditRow {
  /** Stable: rule, row and column. An accepted doubt stays accepted while the value is what it was. */
  readonly id: string;
  readonly rule: AuditRule;
  readonly row: RowRef;
  readonly column: string | null;
  /** The value doubted, as canonical data. */
  readonly value: unknown;
  /** Other rows that the doubt rests on. */
  readonly others: readonly RowRef[];
  readonly facts: Readonly<Record<string, string | number | null>>;
  /** What the value might have been meant to be; null where nothing can be said. */
  readonly proposes: unknown;
}

/** What somebody decided about one cell or row. `was` is the sheet's value it was decided on. */
export interface Answer {
  readonly table: TableName;
  readonly key: string;
  /** Null: the row as a whole. */
  readonly column: string | null;
  readonly was: unknown;
  /** For "correct" the value to use instead. */
  readonly becomes: unknown;
  readonly verdict: "accept" | "correct" | "exclude";
  readonly rule: AuditRule | null;
  readonly who: string;
  readonly when: string;
  readonly why: string;
}

/** Records with the answers applied, and the answers that no longer fit: the sheet's value is not `was` any more. */
export interface AuditedRecords<R> {
  readonly records: R;
  readonly applied: readonly Answer[];
  readonly stale: readonly Answer[];
}
