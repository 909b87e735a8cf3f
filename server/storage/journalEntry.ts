/** What the journal writes down. Every entry stands alone: with the file bytes, it is enough to store its batch again. */
import type { StatementDefinition, StatementResult } from "../../analysis/index.ts";
import type { BatchInput } from "./store.ts";
import type { Answer, AnswerGiven, MappedSheet, Mapping, Problem, SetupRow, WordList } from "./types.ts";

/** First entry of a journal: gives it a name of its own, so that a store knows its journal. */
export interface JournalBegun {
  readonly kind: "begun";
  readonly journal: string;
  readonly format: 1;
}

/** One drop. Versions of mappings and words are those given when it was stored. */
export interface JournaledBatch {
  readonly kind: "batch";
  /** Present where it holds what version 1 did not know: why. */
  readonly version?: 2;
  readonly batch: number;
  readonly who: string;
  readonly when: string;
  readonly why?: string;
  readonly files: readonly { readonly file: string; readonly sha256: string; readonly bytes: number }[];
  readonly sheets: readonly {
    readonly file: string;
    readonly sheet: string | null;
    readonly mapping: Mapping;
    /** Present where the sheet is a table of an export, read cell by cell as it was written. */
    readonly exported?: true;
  }[];
  readonly words: WordList;
  /** Mappings of no sheet of this drop that came along with it. */
  readonly remember?: readonly Mapping[];
  readonly setup: readonly SetupRow[];
  readonly linkProblems: readonly Problem[];
  /** Hash of all data after this batch: what a replay must come to again. */
  readonly dataHash: string;
}

/** What somebody decided about cells and rows, together. */
export interface JournaledAnswers {
  readonly kind: "answers";
  readonly version: 1;
  readonly who: string;
  readonly when: string;
  /** Those brought from another store keep who gave them and when. */
  readonly answers: readonly (AnswerGiven | Answer)[];
  readonly dataHash: string;
}

/** A batch taken back. It is a batch itself, with a number of its own, so that it can be taken back in turn. */
export interface JournaledUndo {
  readonly kind: "undo";
  readonly version: 1;
  readonly batch: number;
  readonly undoes: number;
  readonly who: string;
  readonly when: string;
  readonly dataHash: string;
}

/** A step of a statement on its way to the customer. The journal holds what it said, so that it can be handed over again. */
export interface JournaledStatement {
  readonly kind: "statement";
  readonly version: 1;
  readonly step: "drafted" | "approved" | "issued";
  /** Number of the statement, and which of its versions. */
  readonly statement: number;
  readonly of: number;
  readonly who: string;
  readonly when: string;
  readonly contentHash: string;
  /** Where drafted: as it was asked for, with the names it masks, and what it says. */
  readonly drafted?: { readonly definition: StatementDefinition; readonly result: StatementResult };
}

export type JournalBody = JournalBegun | JournaledBatch | JournaledAnswers | JournaledUndo | JournaledStatement;

export interface JournalEntry {
  readonly sequence: number;
  /** Hash of the entry before; sixty-four zeros before the first. */
  readonly previous: string;
  readonly hash: string;
  readonly body: JournalBody;
}

/** The newest version of each kind of entry that this program can replay. A body without a version has version 1. */
export const knownKinds: { readonly [K in JournalBody["kind"]]: number } = {
  begun: 1,
  batch: 2,
  answers: 1,
  undo: 1,
  statement: 1,
};

/** Reads the sheets of a journaled batch again, in the order of `batch.sheets`, from the bytes by file name. */
export type ReadBatch = (
  batch: JournaledBatch,
  files: ReadonlyMap<string, Uint8Array>,
) => Promise<{ readonly sheets: readonly MappedSheet[]; readonly linkProblems: readonly Problem[] }>;

/** Input of a batch without the bytes, ready for the tables. */
export type BatchContent = Omit<BatchInput, "files"> & Pick<JournaledBatch, "batch" | "files">;
