/**
 * How one shape of sheet becomes canonical rows. Versioned plain data, confirmed by a person, found again by the
 * fingerprint of its headers. Nothing in here is code: a mapping can be exported, read, edited and imported.
 */
import type { RowRef, TableName } from "./descriptor.ts";

export type DateOrder = "ymd" | "dmy" | "mdy";

/** How the cells of a sheet were cut out of its bytes. */
export interface SheetFormat {
  readonly encoding: "utf-8" | "windows-1252" | "utf-16le";
  readonly delimiter: "," | ";" | "\t" | "|";
  readonly decimal: "." | ",";
  /** Title lines before the header line, not counting comment lines and blank lines. */
  readonly skipLines: number;
  /** Present where the headers take two lines. */
  readonly headerLines?: 2;
  /** Columns in which a blank means "as above". Absent: never asked. Empty: somebody said that no column is so. */
  readonly fillDown?: readonly string[];
  /** Lines that start with this are comments; null where the sheet has none. */
  readonly comment: string | null;
  /** Order of day, month and year per column header, decided from all its cells. */
  readonly dateOrder: Readonly<Record<string, DateOrder>>;
}

/** The cells of one sheet: text as written, with the line each row started on (1 is the first line of the file). */
export interface SheetCells {
  readonly file: string;
  readonly sheet: string | null;
  readonly format: SheetFormat;
  readonly headers: readonly string[];
  readonly headerLine: number;
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
  /** What the reader found and a person should know: a hidden tab, a formula that failed. Part of the sheet's problems. */
  readonly notices?: readonly Problem[];
}

/** Where the value of one canonical field comes from. Exactly one of the five sources. */
export type ColumnRule = {
  /** Unit of the cell, where it differs from the field's ("ft-lbf", "degF", "min"). A unit inside the cell wins. */
  readonly unit?: string;
  /** Vocabulary that turns the shop's words into canonical ones. */
  readonly words?: VocabularyName;
} & (
  | { readonly from: string }
  | { readonly constant: string | number | boolean | readonly string[] | null }
  /** Group 1 of a regular expression over a column ("^AD(\\d{3})-" over "Serial"). `becomes` maps what was caught. */
  | { readonly pattern: string; readonly of: string; readonly becomes?: Readonly<Record<string, string | number>> }
  /** Part `index` of a cell cut at `separator`. */
  | { readonly split: string; readonly separator: string; readonly index: number }
  /** Several columns joined, for keys that the sheet does not hold in one cell. `{line}` is the line number. */
  | { readonly join: readonly string[]; readonly separator: string }
);

export interface TableMapping {
  readonly table: TableName;
  /** Canonical field to rule. Fields left out are null. */
  readonly columns: Readonly<Record<string, ColumnRule>>;
  /** One sheet row gives one row a member: joints side by side, or one value spread over several joints. */
  readonly members?: readonly Readonly<Record<string, ColumnRule>>[];
  /** One sheet row gives one row an entry of a list cell ("main seal; J1"), put into `field`. */
  readonly list?: { readonly from: string; readonly separator: string; readonly field: string };
  /** No row where all of these canonical fields came out null (an empty block of a wide row). */
  readonly unlessBlank?: readonly string[];
  /** Several sheet lines describe the same row (a teardown repeated on each finding): taken once where equal. */
  readonly repeated?: true;
}

/**
 * Rows for what the sheet does not say but the shop knows: "a rebuild here renews: main seal yes, joints when the
 * threads are new". `statement` is printed with the failure definition. While `answered` is false nothing is derived.
 */
export interface AddedRows extends TableMapping {
  readonly question: string;
  readonly statement: string;
  readonly answered: boolean;
}

export interface Mapping {
  readonly name: string;
  readonly version: number;
  readonly fingerprint: string;
  readonly format: SheetFormat;
  readonly tables: readonly TableMapping[];
  readonly addRows: readonly AddedRows[];
}

export type VocabularyName =
  | "conditions"
  | "items"
  | "redress reasons"
  | "pulled because"
  | "teardown why"
  | "teardown kind"
  | "tool status"
  | "hours kind"
  | "pressure test"
  | "yes or no"
  | "severity";

/** The shop's phrases and what they mean. Phrases are normalised by `normalisePhrase`; null means "not written down". */
export interface WordList {
  readonly version: number;
  readonly vocabularies: {
    readonly [V in VocabularyName]?: Readonly<Record<string, string | number | boolean | null>>;
  };
}

/** Column that every tab of a workbook gets at its right: one tab a tool is a usual way to keep a serial. */
export const tabNameHeader = "(tab name)";

/** Last column of the lines set aside as they are given back for repair; the reader leaves it out. */
export const whySetAsideHeader = "why set aside";

/** The name by which a sheet of a drop is told apart: the file, and the tab where the file is a workbook. */
export const nameOfSheet = ({ file, sheet }: Pick<Origin, "file" | "sheet">): string =>
  sheet === null ? file : `${file}, tab ${sheet}`;

/** Where a value came from. */
export interface Origin {
  readonly file: string;
  readonly sheet: string | null;
  readonly line: number;
}

/** One canonical row out of a sheet. `values` follow the descriptor; `asWritten` holds the original cell texts by header. */
export interface MappedRow extends RowRef {
  readonly values: Readonly<Record<string, unknown>>;
  readonly asWritten: Readonly<Record<string, string>>;
  readonly origin: Origin;
  /** Present where the row comes from `addRows`: a row that a sheet writes down itself takes its place. */
  readonly added?: true;
}

/** A problem at a place. Wording is done in `analysis/wording`; `code` and `facts` are stable. */
export interface Problem {
  readonly code: ProblemCode;
  /** An error sets the line aside; a notice keeps the line and leaves the field null. */
  readonly severity: "error" | "notice";
  readonly origin: Origin;
  readonly column: string | null;
  /** The cell as written. */
  readonly value: string | null;
  readonly facts: Readonly<Record<string, string | number | null>>;
}

export type ProblemCode =
  | "missing-required"
  | "not-a-number"
  | "not-a-date"
  | "ambiguous-date"
  | "impossible-date"
  | "unknown-unit"
  | "word-not-known"
  | "not-yes-or-no"
  | "below-minimum"
  | "pattern-did-not-match"
  | "repeated-row-differs"
  | "repeated-key"
  | "row-too-long"
  | "row-too-short"
  | "no-such-column"
  | "link-not-found"
  | "date-order-assumed"
  | "cell-error"
  | "formula-without-value"
  | "tab-hidden"
  | "tab-empty";

/** Every data line of a sheet lands in exactly one of `lines` (kept) and `setAside`. Nothing is dropped. */
export interface MappedSheet {
  readonly file: string;
  readonly sheet: string | null;
  readonly lines: readonly { readonly line: number; readonly rows: readonly MappedRow[] }[];
  readonly setAside: readonly {
    readonly line: number;
    /** As written; where a blank means "as above", with what stands above, so that the line can be dropped alone. */
    readonly cells: readonly string[];
    readonly problems: readonly Problem[];
    /** Rows it would have given, where their keys could be read. */
    readonly rows?: readonly RowRef[];
  }[];
  readonly problems: readonly Problem[];
}

/** One thing a person confirms about a proposed mapping, with what was proposed and why. */
export interface Confirmation {
  readonly id: string;
  readonly kind: "columns" | "date order" | "unit" | "words" | "added rows" | "items" | "modes" | "tools" | "gone";
  readonly question: string;
  readonly why: string;
  /** The proposal in plain words; the data itself is in the mapping, the word list or the added setup rows. */
  readonly proposed: string;
  readonly answered: boolean;
  /** The shape of sheet asked about, and the headers concerned; absent where it is about all sheets. */
  readonly about?: { readonly fingerprint: string; readonly headers: readonly string[] };
  /** Of words: every phrase asked about. */
  readonly words?: readonly ProposedWord[];
}

/** A phrase that the word list does not know, and what it is taken to mean. */
export interface ProposedWord {
  readonly vocabulary: VocabularyName;
  /** As the sheets write it first. */
  readonly phrase: string;
  readonly means: string | number | boolean | null;
  readonly times: number;
  /** The known phrase it was likened to; null where none is near. */
  readonly like: string | null;
}
