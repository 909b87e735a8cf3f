/**
 * What the person sees of one drop before anything is stored, as data. The same shapes as `DropPreview` of
 * `analysis/study/api.ts` without its id; stated here because `records` knows nothing of `study`.
 */
import type { RowRef, TableName } from "./descriptor.ts";
import type { Confirmation, MappedSheet, Mapping, Origin, Problem, SheetCells, WordList } from "./mapping.ts";

/** A row that no sheet holds but that follows from them, and why. */
export interface SetupRow {
  readonly table: TableName;
  readonly values: Readonly<Record<string, unknown>>;
  readonly why: string;
}

/** A row already stored. `StoredRow` has more. */
export interface StoredValues extends RowRef {
  readonly values: Readonly<Record<string, unknown>>;
}

export interface DropLineCounts {
  readonly lines: number;
  readonly new: number;
  readonly unchanged: number;
  readonly changed: number;
  readonly setAside: number;
}

export interface ValueChange {
  readonly row: RowRef;
  readonly field: string;
  readonly was: unknown;
  readonly becomes: unknown;
  readonly origin: Origin;
}

/** A stored row that an earlier sheet of the same shape held, and where it stood. */
export interface GoneRow {
  readonly row: RowRef;
  readonly origin: Origin;
}

/** Stored rows that a drop does not hold, of the tables that a shape of sheet gives. */
export interface MissingRows {
  /** Index of the first sheet of the shape. */
  readonly sheet: number;
  readonly fingerprint: string;
  readonly headers: readonly string[];
  /** Stored rows that the sheets of the shape do hold. */
  readonly held: number;
  readonly rows: readonly RowRef[];
}

/** Where reading a drop stands: lines mapped, or sheets compared. Mapping may be done more than once. */
export type OnProgress = (stage: "mapping" | "comparing", done: number, of: number) => void;

export interface SheetReading {
  readonly file: string;
  readonly sheet: string | null;
  readonly bytes: number;
  readonly mapping: Mapping;
  readonly mappingIs: "remembered" | "proposed" | "edited" | "not understood";
  readonly columns: readonly {
    readonly header: string;
    readonly samples: readonly string[];
    readonly becomes: readonly { readonly table: TableName; readonly field: string; readonly unit: string | null }[];
    readonly why: string;
  }[];
  readonly counts: DropLineCounts;
  readonly rowsByTable: { readonly [T in TableName]?: number };
  readonly problems: readonly Problem[];
  readonly changes: readonly ValueChange[];
  /** Asked about, never deleted. */
  readonly gone: readonly GoneRow[];
  readonly inAll?: { readonly problems: number; readonly changes: number };
}

export interface DropInput {
  /** All sheets of the drop, as read, with the size of their files. */
  readonly sheets: readonly { readonly sheet: SheetCells; readonly bytes: number }[];
  /** Mappings confirmed before; the newest version of each fingerprint counts. */
  readonly remembered: readonly Mapping[];
  /** The stored word list; version 0 before the first batch. The words every shop starts from are added here. */
  readonly words: WordList;
  /** Every stored row. */
  readonly stored: Iterable<StoredValues>;
  readonly answers: {
    readonly confirm?: readonly string[];
    readonly mappings?: Readonly<Record<string, Mapping>>;
    readonly words?: WordList["vocabularies"];
    readonly setup?: readonly SetupRow[];
  };
  readonly onProgress?: OnProgress;
}

export interface DropReading {
  readonly files: readonly SheetReading[];
  readonly words: WordList;
  readonly confirmations: readonly Confirmation[];
  readonly setup: readonly SetupRow[];
  readonly linkProblems: readonly Problem[];
  readonly counts: DropLineCounts;
  readonly ready: boolean;
  /** For `withGone`. */
  readonly missing: readonly MissingRows[];
  /** What to store: each sheet with the mapping that gives these rows, in the order of the files. */
  readonly mapped: readonly { readonly mapped: MappedSheet; readonly mapping: Mapping }[];
}
