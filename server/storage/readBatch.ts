import { mapDrop } from "../../analysis/index.ts";
import { readSheet } from "../intake/readSheet.ts";
import type { ReadBatch } from "./journalEntry.ts";
import { StorageError } from "./storageError.ts";

/**
 * Reads the sheets of a journaled batch again: bytes to cells to rows, under the mappings and words it was stored with.
 * Links that led nowhere were notices at the time, and are taken from the journal.
 */
export const readBatch: ReadBatch = async ({ sheets, words, linkProblems }, files) => ({
  sheets: mapDrop({
    words,
    sheets: sheets.map(({ file, mapping }) => {
      const bytes = files.get(file);
      if (bytes === undefined) throw new StorageError("journal-file-missing", { file, path: file });
      return { sheet: readSheet(bytes, file, mapping.format), mapping };
    }),
  }),
  linkProblems,
});
