/** Audit, answers and undo over HTTP: types that analysis owns so that server and web meet only here. All JSON. */
import type { Answer, AuditRow, AuditRule } from "../records/audit/types.ts";
import type { RowRef, TableName } from "../records/descriptor.ts";
import type { Origin, Problem } from "../records/mapping.ts";
import type { StoredBatch } from "./api.ts";

/** An answer and what became of it. */
export interface AnswerState {
  readonly answer: Answer;
  /**
   * stale: the sheet's value is not `was` any more, or the row is gone. superseded: a later answer of the same cell
   * stands. refused: it cannot be applied to any sheet.
   */
  readonly state: "applied" | "stale" | "superseded" | "refused";
}

/** What was decided about a cell, beside what the sheet says. `column` null: about the row as a whole. */
export interface Correction extends AnswerState {
  readonly column: string | null;
  /** What the sheet says now; the whole row where `column` is null. */
  readonly sheetValue: unknown;
}

/** The doubts of one rule about one column. */
export interface AuditGroupSummary {
  readonly rule: AuditRule;
  readonly table: TableName;
  readonly column: string | null;
  readonly count: number;
  /** Different lives that rest on any of its rows; null while nothing can be derived. */
  readonly lives: number | null;
  /** Different lives that rest on any row of this group or of one before it; null while nothing can be derived. */
  readonly livesSoFar: number | null;
}

/** GET /api/audit; with the parameters of a scope, only what its lives rest on. */
export interface AuditReply {
  readonly dataHash: string;
  /** Something in the records is doubted and not answered. */
  readonly open: boolean;
  /** Open doubts in all. */
  readonly total: number;
  /** Lives that rest on any row in doubt, of all lives of the scope; null while nothing can be derived. */
  readonly lives: { readonly touched: number; readonly total: number } | null;
  /** Those that touch the most lives first. */
  readonly groups: readonly AuditGroupSummary[];
  /** Answers that are no longer applied because the sheet says something else now, and not given anew since. */
  readonly stale: readonly Answer[];
  readonly answers: number;
}

/** GET /api/audit/rows?rule=...: open doubts, those that touch the most lives first. */
export interface AuditRowsReply {
  readonly dataHash: string;
  readonly total: number;
  readonly offset: number;
  readonly rows: readonly (AuditRow & { readonly lives: number | null })[];
}

/** Body of POST /api/audit/answers: one answer or many, given by one person at one moment. */
export interface AuditAnswers {
  readonly who?: string;
  readonly answers: readonly Omit<Answer, "who" | "when">[];
}

/** POST /api/audit/answers: what stands now. */
export interface AnswersReply {
  readonly stored: number;
  readonly dataHash: string;
  readonly answers: readonly AnswerState[];
}

/** What answers would change, or changed. */
export interface AnswersEffect {
  /** Cells that get another value. */
  readonly cells: number;
  readonly rowsLeftOut: number;
  /** Open doubts before and after. */
  readonly doubts: { readonly before: number; readonly after: number };
  /**
   * Lives whose ages or end come out otherwise, that are there no longer, and that are new; null while nothing can be
   * derived. `total`: lives afterwards.
   */
  readonly lives: {
    readonly changed: number;
    readonly gone: number;
    readonly added: number;
    readonly total: number;
  } | null;
}

/** POST /api/audit/answers?preview=true: nothing is stored. */
export interface AnswersPreview extends AnswersEffect {
  readonly dataHash: string;
  /** Answers that would be refused: the cell says something else now, the row is gone, the value does not fit. */
  readonly notApplied: number;
  /** Rows that belong to a row left out: kept, and used by no life. */
  readonly hanging: number;
}

/** GET /api/audit/answers: everything decided so far, the latest first. */
export interface AnswersListReply {
  readonly total: number;
  readonly offset: number;
  readonly answers: readonly AnswerState[];
}

/** One thing that befell a cell, or the row as a whole. */
export interface CellStep {
  /** Null: the row as a whole. */
  readonly field: string | null;
  /** Present where a row came or went. */
  readonly row?: "brought in" | "brought back" | "taken out";
  readonly was: unknown;
  readonly becomes: unknown;
  readonly by:
    | { readonly kind: "drop"; readonly batch: number; readonly origin: Origin | null }
    | { readonly kind: "undo"; readonly batch: number; readonly undoes: number; readonly origin: Origin | null }
    | {
        readonly kind: "answer";
        readonly verdict: Answer["verdict"];
        readonly rule: AuditRule | null;
        readonly state: AnswerState["state"];
      };
  readonly who: string;
  readonly when: string;
  readonly why: string | null;
}

/**
 * GET /api/rows/history?ref=table:key&field=hours: what became of a cell, or of a row where no field is named. Oldest first;
 * an answer stands beside what the sheet says and changes no stored value.
 */
export interface RowHistoryReply {
  readonly row: RowRef;
  readonly field: string | null;
  readonly steps: readonly CellStep[];
}

/** One row that an undo moves. */
export interface UndoneRow extends RowRef {
  /** removed: the batch had brought it. restored: its former values. returned: the batch had taken it out. */
  readonly what: "removed" | "restored" | "returned";
  readonly cells: readonly { readonly field: string; readonly was: unknown; readonly becomes: unknown }[];
}

/** What taking a batch back would do, or did. */
export interface UndoPreview {
  readonly undoes: number;
  readonly removed: number;
  readonly restored: number;
  readonly returned: number;
  /** Rows that a later batch changed: they stay as that batch left them. */
  readonly kept: number;
  /** The first 500 of them. */
  readonly rows: readonly UndoneRow[];
  /** The first 500, each with the batch that changed it last. */
  readonly keptRows: readonly (RowRef & { readonly changedBy: number })[];
}

/** POST /api/batches/:id/undo; `stored` is null for a preview. */
export interface UndoReply extends UndoPreview {
  readonly stored: StoredBatch | null;
}

/** One row written in a form, in canonical names and units; a field left out keeps its stored value, null empties it. */
export interface FormEntry {
  readonly table: TableName;
  readonly values: Readonly<Record<string, unknown>>;
}

/** POST /api/forms/preview: what would become of each row; nothing is stored by asking. */
export interface FormPreview {
  readonly rows: readonly {
    readonly row: RowRef;
    readonly what: "new" | "changed" | "unchanged";
    readonly cells: readonly { readonly field: string; readonly was: unknown; readonly becomes: unknown }[];
  }[];
  /** An error keeps the form from being stored; a notice does not. */
  readonly problems: readonly Problem[];
  readonly ready: boolean;
}
