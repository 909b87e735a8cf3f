/** What goes over HTTP, in types that analysis owns so that server and web meet only here. All JSON. */

import type { Life } from "../lives/types.ts";
import type { RowRef, TableName } from "../records/descriptor.ts";
import type { WrittenUnder } from "../records/headersOf.ts";
import type { Confirmation, Mapping, Origin, Problem, WordList } from "../records/mapping.ts";
import type { Correction } from "./recordsApi.ts";
import type { ScopeChoices } from "./types.ts";

/** GET /api/state */
export interface StateReply {
  readonly engineVersion: string;
  readonly dataHash: string;
  /** Rows by table. */
  readonly rows: { readonly [T in TableName]: number };
  readonly batches: number;
  readonly setAside: number;
  /** True where every batch comes from the invented sample fleet. */
  readonly sample: boolean;
  /** Questions about what the sheets do not say that nobody has answered; nothing is derived while any is open. */
  readonly openQuestions: readonly string[];
  readonly choices: ScopeChoices;
}

/** Event "progress" of GET /api/build-practice as text/event-stream; event "result" follows, or "error". */
export interface StudyProgress {
  /** From 0 to 1. */
  readonly share: number;
  /** What is being worked on, in words. */
  readonly doing: string;
}

/** GET /api/lives: one page of the lives of a scope, or the lives asked for by id. */
export interface LivesReply {
  readonly total: number;
  readonly offset: number;
  readonly lives: readonly Life[];
}

/** GET /api/rows?ref=table:key ...: the rows that are stored, in the order asked, and those asked for that are not. */
export interface RowsReply {
  readonly rows: readonly StoredRow[];
  readonly missing: readonly RowRef[];
}

/** One stored row, traceable to its sheet. */
export interface StoredRow extends RowRef {
  readonly values: Readonly<Record<string, unknown>>;
  readonly asWritten: Readonly<Record<string, string>>;
  readonly origin: Origin;
  readonly batch: number;
  /** What was decided about its cells, oldest first; absent where nobody decided anything. */
  readonly corrections?: readonly Correction[];
  /** The sheet's header and unit of each field that stands in a column of its own; absent where no mapping knows. */
  readonly writtenUnder?: Readonly<Record<string, WrittenUnder>>;
}

/** Counts of one file; lines = new + unchanged + changed + set aside. */
export interface LineCounts {
  readonly lines: number;
  readonly new: number;
  readonly unchanged: number;
  readonly changed: number;
  readonly setAside: number;
}

export interface FilePreview {
  readonly file: string;
  readonly sheet: string | null;
  readonly bytes: number;
  readonly mapping: Mapping;
  /** "remembered": found by fingerprint. "proposed": from the headers. "not understood": no table could be proposed. */
  readonly mappingIs: "remembered" | "proposed" | "edited" | "not understood";
  /** A header with its first cells as written and what it becomes. */
  readonly columns: readonly {
    readonly header: string;
    readonly samples: readonly string[];
    readonly becomes: readonly { readonly table: TableName; readonly field: string; readonly unit: string | null }[];
    readonly why: string;
  }[];
  readonly counts: LineCounts;
  readonly rowsByTable: { readonly [T in TableName]?: number };
  readonly problems: readonly Problem[];
  readonly changes: readonly {
    readonly row: RowRef;
    readonly field: string;
    readonly was: unknown;
    readonly becomes: unknown;
    readonly origin: Origin;
  }[];
  /** Rows that an earlier sheet of the same shape held and this one does not. Asked about, never deleted. */
  readonly gone: readonly { readonly row: RowRef; readonly origin: Origin }[];
  /** Present where only the first problems and changes of a large sheet are listed: how many there are. All are stored. */
  readonly inAll?: { readonly problems: number; readonly changes: number };
}

/**
 * GET /api/drops/:id while the files are being read; POST /api/drops with `Prefer: respond-async`; each event "progress"
 * of the same address as text/event-stream. A preview has no `state`.
 */
export interface DropProgress {
  readonly id: string;
  readonly state: "reading";
  /** Waiting for an earlier drop; cutting files into cells; turning lines into rows; comparing with what is stored. */
  readonly stage: "waiting" | "reading" | "mapping" | "comparing";
  /** Lines read or mapped so far. */
  readonly rows: number;
  /** Lines in all; null while the files are still being cut. */
  readonly rowsInAll: number | null;
  /** From 0 to 1, never falling. */
  readonly share: number;
}

/** POST /api/drops/paste: cells copied from a spreadsheet, as text. */
export interface PastedSheet {
  readonly text: string;
  /** A name to know it by; "pasted sheet" where none is given. */
  readonly name?: string;
}

/** POST /api/drops, GET /api/drops/:id, POST /api/drops/:id/answers. Nothing is stored yet. */
export interface DropPreview {
  readonly id: string;
  readonly files: readonly FilePreview[];
  readonly words: WordList;
  readonly confirmations: readonly Confirmation[];
  /** Setup rows that no file holds but that follow from them: tools by serial pattern, items, modes. */
  readonly setup: readonly {
    readonly table: TableName;
    readonly values: Readonly<Record<string, unknown>>;
    readonly why: string;
  }[];
  /** Problems seen only across files: links that lead nowhere. */
  readonly linkProblems: readonly Problem[];
  /** Present where only the first of them are listed: how many there are. All are stored. */
  readonly linkProblemsInAll?: number;
  readonly counts: LineCounts;
  /** Every confirmation answered: the drop can be stored. */
  readonly ready: boolean;
}

/** Body of POST /api/drops/:id/answers. */
export interface DropAnswers {
  /** Ids of confirmations accepted as proposed. */
  readonly confirm?: readonly string[];
  /** Mappings edited by hand, by file name. */
  readonly mappings?: Readonly<Record<string, Mapping>>;
  /** Words added or changed. */
  readonly words?: WordList["vocabularies"];
  readonly setup?: DropPreview["setup"];
}

/** POST /api/drops/:id/store, GET /api/batches */
export interface StoredBatch {
  readonly batch: number;
  readonly storedAt: string;
  readonly who: string;
  /** What was said for it, where somebody said something. */
  readonly why?: string;
  readonly files: readonly {
    readonly file: string;
    readonly sha256: string;
    readonly bytes: number;
    readonly counts: LineCounts;
  }[];
  readonly counts: LineCounts;
  readonly dataHash: string;
  /** Present where this batch takes another one back. */
  readonly undoes?: number;
}

/** GET /api/batches/:id: a batch with what could not be stored of it. */
export interface BatchReply extends StoredBatch {
  readonly problems: readonly Problem[];
  readonly setAsideLines: readonly {
    readonly origin: Origin;
    readonly cells: readonly string[];
    readonly problems: readonly Problem[];
  }[];
}

/** Any error reply. `message` is worded by `analysis/wording`; status follows the code. */
export interface ErrorReply {
  readonly error: {
    readonly code: string;
    readonly message: string;
    readonly facts: Readonly<Record<string, unknown>>;
  };
}
