/** Doubts about records, and what the shop answered. Corrections stand beside originals; nothing is overwritten. */
import type { RowRef, TableName } from "../descriptor.ts";

/** Every rule of the audit. */
export const auditRules = [
  "runs overlap",
  "hours exceed dates",
  "zero hours of a long run",
  "hours missing",
  "age falls without a restoration",
  "serial in two places",
  "teardown without run",
  "run without build",
  "torque unit suspect",
  "torque not written",
  "temperature unit suspect",
  "hours heaped",
  "duplicate run",
  "split run",
  "planned redress of a failed tool",
  "failed item refitted",
  "other too often",
  "sound looks rarely written",
  "failure reported late",
  "out but silent",
  "returned, not torn down",
  "teardown of another serial suspected",
  "reason not written",
] as const;
export type AuditRule = (typeof auditRules)[number];

/** One doubt about one cell, row or group of rows. */
export interface AuditRow {
  /** Stable: rule, row and column (and the group, where one is doubted). An accepted doubt stays accepted while the
   * value is what it was. */
  readonly id: string;
  readonly rule: AuditRule;
  /** The row doubted; of a group of rows the earliest. */
  readonly row: RowRef;
  readonly column: string | null;
  /** The value doubted, as canonical data; the whole row where `column` is null. */
  readonly value: unknown;
  /** Other rows that the doubt rests on; of a group all its other doubted rows. */
  readonly others: readonly RowRef[];
  readonly facts: Readonly<Record<string, string | number | null>>;
  /** What the value might have been meant to be, or the verdict "exclude" where the row is there twice; null where
   * nothing can be said. */
  readonly proposes: unknown;
}

/** What somebody decided about one cell or row. `was` is the sheet's value it was decided on. */
export interface Answer {
  readonly table: TableName;
  readonly key: string;
  /** Null: the row as a whole. */
  readonly column: string | null;
  /** For a row as a whole its values, or null where the answer stands whatever the row says. */
  readonly was: unknown;
  /** For "correct" the value to use instead. */
  readonly becomes: unknown;
  /** "reopen": what was decided before no longer counts; the cell or row is as the sheet has it, and in doubt again. */
  readonly verdict: "accept" | "correct" | "exclude" | "reopen";
  readonly rule: AuditRule | null;
  readonly who: string;
  readonly when: string;
  readonly why: string;
}

/** Why an answer cannot be applied to any sheet. */
export type RefusedBecause = "no such column" | "no column named" | "key of the row" | "does not fit the column";

/**
 * Records with the answers applied. Every answer is in exactly one of `applied`, `superseded`, `stale` and `refused`.
 */
export interface AuditedRecords<R> {
  readonly records: R;
  readonly applied: readonly Answer[];
  /** The sheet's value is not `was` any more, or the row is gone. */
  readonly stale: readonly Answer[];
  /** A later answer of the same cell stands. */
  readonly superseded: readonly Answer[];
  readonly refused: readonly { readonly answer: Answer; readonly because: RefusedBecause }[];
  /** Rows left without the row they belong to, by the answer that excluded it. They are kept, and no life uses them. */
  readonly hanging: readonly { readonly answer: Answer; readonly rows: readonly RowRef[] }[];
}

/** Ids of the lives that rest on the rows of a doubt, by the doubt's id. */
export type LivesByDoubt = ReadonlyMap<string, readonly string[]>;

/** The doubts of one rule about one column. */
export interface AuditGroup {
  readonly rule: AuditRule;
  readonly table: TableName;
  readonly column: string | null;
  /** Those that touch the most lives first. */
  readonly rows: readonly AuditRow[];
  /** Different lives that rest on any of these rows; null where the lives were not given. */
  readonly lives: number | null;
}
