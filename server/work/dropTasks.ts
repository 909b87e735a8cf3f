/** Messages between the main process and the worker that reads drops. Plain data: errors travel as codes with facts. */
import type { MessagePort } from "node:worker_threads";
import type {
  AnalysisErrorCode,
  DropAnswers,
  DropProgress,
  DropReading,
  MappedSheet,
  Mapping,
  SheetFormat,
  TableName,
  WordList,
} from "../../analysis/index.ts";
import type { DroppedFile } from "../intake/draft.ts";

/** Where reading stands, without the drop's id. */
export type Progress = Omit<DropProgress, "id" | "state">;

/** What a drop is read against. The worker knows the stored rows by their hash; they are sent in pieces. */
export interface DropContext {
  readonly dataHash: string;
  readonly remembered: readonly Mapping[];
  readonly words: WordList;
}

export type DropTask =
  | {
      readonly kind: "stored";
      readonly dataHash: string;
      readonly table: TableName;
      readonly rows: readonly Readonly<Record<string, unknown>>[];
      readonly last: boolean;
    }
  | {
      readonly kind: "read";
      /** Names this reading, so that its rows can be asked for afterwards. */
      readonly reading: string;
      readonly files: readonly DroppedFile[];
      readonly answers: DropAnswers;
      readonly context: DropContext;
      readonly progress: MessagePort | null;
    }
  | {
      readonly kind: "rows";
      readonly reading: string;
      readonly sheet: number;
      readonly from: number;
      readonly to: number;
    }
  | { readonly kind: "set aside"; readonly reading: string; readonly sheet: number }
  | ({ readonly kind: "headers" } & HeadersQuestion);

/** Under which headers do these lines of a stored file stand? The formats are tried in turn, after the file's own. */
export interface HeadersQuestion {
  readonly file: DroppedFile;
  readonly tab: string | null;
  readonly formats: readonly SheetFormat[];
  readonly lines: readonly { readonly line: number; readonly cells: readonly string[] }[];
}

export interface Headers {
  readonly headers: readonly string[];
  readonly format: SheetFormat;
}

/** A reading without its rows, which stay in the worker until somebody stores them. */
export type DropHead = Omit<DropReading, "mapped"> & {
  /** Lines of each mapped sheet that become rows. */
  readonly lines: readonly number[];
};

export type DropReply =
  | { readonly kind: "done" }
  | { readonly kind: "read"; readonly head: DropHead }
  | { readonly kind: "rows"; readonly lines: MappedSheet["lines"] }
  | {
      readonly kind: "set aside";
      readonly sheet: Omit<MappedSheet, "lines">;
      readonly mapping: Mapping;
      readonly headers: readonly string[];
    }
  /** null where no format gives these lines. */
  | { readonly kind: "headers"; readonly found: Headers | null }
  /** The worker is new, or was restarted. */
  | { readonly kind: "stored wanted" }
  | { readonly kind: "reading wanted" }
  | {
      readonly kind: "refused";
      readonly code: AnalysisErrorCode;
      readonly facts: Readonly<Record<string, string | number | null>>;
    };
