/** What opening the store found and mended. */
export type StorageNoticeCode =
  | "caught-up"
  | "torn-line-set-aside"
  | "stale-lock-taken-over"
  | "unfinished-data-folder"
  | "replayed-differently"
  | "made-again";

type Facts = Readonly<Record<string, string | number | null>>;

const sentences: { readonly [C in StorageNoticeCode]: (facts: Facts) => string } = {
  "caught-up": (f) =>
    `The store was behind its journal and has been brought up from entry ${f.from} to entry ${f.to}. Nothing is missing.`,
  "torn-line-set-aside": (f) =>
    `The last write to the journal was cut off before it was complete (entry ${f.sequence}). It had not been confirmed to anybody; what was there is kept in ${f.file}. If you stored a drop just before, store it again.`,
  "stale-lock-taken-over": (f) =>
    `Process ${f.pid}, which held the folder since ${f.since}, no longer runs; its lock was taken over.`,
  "unfinished-data-folder": (f) =>
    `An earlier start was cut off before the store was complete; it was made again. The beginnings are kept in ${f.folder}.`,
  "made-again": () =>
    "This version keeps more about each row than the one that last opened the store, so the tables were made again from the journal. Nothing is missing.",
  "replayed-differently": (f) =>
    `${f.batch === null ? `Entry ${f.entry} of the journal` : `Batch ${f.batch}`} was read again from its sheets and gave other values than when it was stored. The program that reads sheets has changed since; look at the batch's rows before relying on them.`,
};

/** One notice as sentences: what was found, what was done. */
export function sayStorageNotice(code: StorageNoticeCode, facts: Facts): string {
  return sentences[code](facts);
}
