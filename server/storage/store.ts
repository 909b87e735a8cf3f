/**
 * What the rest of the server may ask of the store. The journal is the promise: a batch is stored from the moment its
 * journal entry is on disk, and the tables are brought up to the journal whenever they are behind it.
 */
import type { AuditedRecords, CellStep } from "../../analysis/index.ts";
import type { OpenFile } from "./durableFiles.ts";
import type { ReadBatch } from "./journalEntry.ts";
import type { Database } from "./sql.ts";
import type { StatementDraft, StatementVersion } from "./statementVersions.ts";
import type {
  Answer,
  AnswerGiven,
  LineCounts,
  MappedSheet,
  Mapping,
  Origin,
  Problem,
  Records,
  RowRef,
  SetupRow,
  StorageNoticeCode,
  StoredBatch,
  StoredRow,
  TableName,
  UndoPreview,
  WordList,
} from "./types.ts";

/** One drop: everything that was confirmed, stored whole or not at all. */
export interface BatchInput {
  readonly who: string;
  /** When, as an ISO 8601 instant. The store has no clock of its own. */
  readonly when: string;
  /** What was said for it, where somebody said something. */
  readonly why?: string;
  readonly files: readonly { readonly file: string; readonly bytes: Uint8Array }[];
  /** What each sheet came to under which mapping; `mapped.file` names one of `files`. */
  readonly sheets: readonly {
    readonly mapped: MappedSheet;
    readonly mapping: Mapping;
    /** A table of an export, read cell by cell as it was written; its mapping is not remembered. */
    readonly exported?: true;
  }[];
  /** Mappings of no sheet of this drop that are to be remembered. */
  readonly remember?: readonly Mapping[];
  readonly words: WordList;
  /** Rows that no file holds but that somebody confirmed: items, modes, tools by serial pattern. */
  readonly setup: readonly SetupRow[];
  /** Problems seen only across files. */
  readonly linkProblems?: readonly Problem[];
}

/** One cell that would change, with what it was. */
export interface CellChange {
  readonly row: RowRef;
  readonly field: string;
  readonly was: unknown;
  readonly becomes: unknown;
  readonly origin: Origin;
}

/** What a batch would do to the rows already stored. Counts are of lines: lines = new + unchanged + changed + set aside. */
export interface BatchComparison {
  /** One entry a sheet of the batch, in order. */
  readonly sheets: readonly {
    readonly file: string;
    readonly sheet: string | null;
    readonly counts: LineCounts;
    readonly rowsByTable: { readonly [T in TableName]?: number };
    readonly changes: readonly CellChange[];
  }[];
  readonly counts: LineCounts;
}

export interface LoadedRecords {
  readonly records: Records;
  /** Names what is stored: the same values and statements give the same hash, in whatever order they came. */
  readonly dataHash: string;
}

/** The records that studies run on, with what stands behind them. */
export interface LoadedShop extends AuditedRecords<Records> {
  /** As the sheets say. */
  readonly raw: Records;
  /** In the order decided. */
  readonly answers: readonly Answer[];
  /** Covers the answers too. */
  readonly dataHash: string;
}

/** A line that was not stored, with its cells as written. */
export interface SetAsideLine {
  readonly origin: Origin;
  readonly cells: readonly string[];
  readonly problems: readonly Problem[];
}

/** What opening found and mended; all empty on an ordinary start. Codes and facts; `sayStorageNotice` words them. */
export interface OpeningNotice {
  readonly code: StorageNoticeCode;
  readonly facts: Readonly<Record<string, string | number | null>>;
}

export interface Store {
  readonly kind: "embedded" | "server";
  /** Holds the journal: `log.jsonl` and `files/`. */
  readonly journalFolder: string;
  readonly opening: readonly OpeningNotice[];
  /** Compares without storing; the same code counts a stored batch. */
  compareBatch(input: Pick<BatchInput, "sheets" | "setup">): Promise<BatchComparison>;
  storeBatch(input: BatchInput): Promise<StoredBatch>;
  /**
   * Stores what somebody decided about cells and rows: all of it or, where one answer is refused, none.
   * Errors  "bad-answer", "answer-outdated"
   */
  addAnswers(answers: readonly AnswerGiven[], who: string, when: string): Promise<readonly Answer[]>;
  /**
   * Takes over answers given in another store, as they were given: those that no longer fit come as stale. Answers that
   * are there already are passed over. Errors  "bad-answer"
   */
  bringAnswers(answers: readonly Answer[], who: string, when: string): Promise<number>;
  /** All answers, in the order decided. */
  answers(): Promise<readonly Answer[]>;
  /** What taking a batch back would do. Errors  "no-such-batch", "nothing-to-undo" */
  previewUndo(batch: number): Promise<UndoPreview>;
  /**
   * Takes a batch back as a batch of its own; an undo is taken back the same way. Rows that a later batch changed stay.
   * Errors  "no-such-batch", "nothing-to-undo"
   */
  undoBatch(batch: number, who: string, when: string): Promise<UndoPreview & { readonly stored: StoredBatch }>;
  /** The sheets' own rows. */
  loadRecords(): Promise<LoadedRecords>;
  /** The rows with every answer applied that still stands: what is studied. */
  loadShop(): Promise<LoadedShop>;
  /** In the order asked, with what was decided about each; a reference that leads nowhere is left out. */
  rowsByRef(refs: readonly RowRef[]): Promise<readonly StoredRow[]>;
  /**
   * What became of one row or one cell of it, oldest first: drops, forms, undos and answers. Empty where no batch ever
   * held the row.
   */
  cellHistory(ref: RowRef, field: string | null): Promise<readonly CellStep[]>;
  /** All rows of a table, in order of key. */
  rowsOf(table: TableName): Promise<readonly StoredRow[]>;
  /** One hash a canonical table over its values alone: equal wherever the rows came from. */
  valueHashes(): Promise<{ readonly [T in TableName]: string }>;
  /** Name of this store, given once at random: what aliases of its names are made with. It stands in no statement. */
  readonly secret: string;
  /** Every version of every statement, in the order drafted. */
  statementVersions(): Promise<readonly StatementVersion[]>;
  /** Stores what a statement says as a draft: version 1 of a new one, or the next version of one that is there. */
  draftStatement(draft: StatementDraft, who: string, when: string): Promise<StatementVersion>;
  /**
   * Approves or issues the newest version of a statement.
   * Errors  "no-such-statement", "statement-step"
   */
  advanceStatement(
    step: "approved" | "issued",
    version: { readonly statement: number; readonly of: number },
    who: string,
    when: string,
  ): Promise<StatementVersion>;
  /** Runs `work` while nothing is written; `work` itself only reads, for a write in it would wait for its own end. */
  whileStill<T>(work: () => Promise<T>): Promise<T>;
  rowCounts(): Promise<{ readonly [T in TableName]: number }>;
  /** The newest version of each fingerprint. */
  rememberedMappings(): Promise<readonly Mapping[]>;
  /** The newest word list; version 0 and empty before the first batch. */
  words(): Promise<WordList>;
  /** Oldest first. */
  batches(): Promise<readonly StoredBatch[]>;
  setAside(batch: number): Promise<readonly SetAsideLine[]>;
  /** Every problem of a batch, those of the lines set aside included. */
  problems(batch: number): Promise<readonly Problem[]>;
  /** Bytes of a stored file, checked against its hash. */
  fileBytes(sha256: string): Promise<Uint8Array>;
  /** One hash a table of the store, free of row order; equal hashes mean equal content. */
  tableHashes(): Promise<Readonly<Record<string, string>>>;
  /** Questions of remembered mappings that nobody has answered. */
  openQuestions(): Promise<readonly string[]>;
  /** Statements of the answered ones, printed with every failure definition. */
  statements(): Promise<readonly string[]>;
  close(): Promise<void>;
}

/** Steps of storing, in order. Only a test listens: it kills the process at one of them. */
export type StoreStep =
  | "files written"
  | "rows written"
  | "journal written"
  | "before commit"
  | "after commit"
  | "before reply";

export interface OpenStoreOptions {
  /** Holds `lock/`, `journal/` and, for the embedded store, `data/`. Made if missing. */
  readonly folder: string;
  /** A PostgreSQL server (15 or newer) instead of the embedded store. The journal stays in `folder`. */
  readonly databaseUrl?: string;
  readonly onStep?: (step: StoreStep) => void | Promise<void>;
  /** How the journal reads sheets again when the tables are behind it. */
  readonly readBatch?: ReadBatch;
  /** How the journal opens files to write; a test puts a full disk here. */
  readonly openFile?: OpenFile;
  /** How the tables are opened; tests keep one engine running for many stores. */
  readonly openDatabase?: () => Promise<Database>;
}
