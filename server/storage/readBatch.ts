import { AnalysisError, mapDrop, type SheetCells, type SheetFormat } from "../../analysis/index.ts";
import { readFile } from "../intake/readFile.ts";
import { readExportedTable } from "./export/readExportedTable.ts";
import type { ReadBatch } from "./journalEntry.ts";
import { StorageError } from "./storageError.ts";

/**
 * Reads the sheets of a journaled batch again: bytes to cells to rows, under the mappings and words it was stored with.
 * Links that led nowhere were notices at the time, and are taken from the journal.
 */
export const readBatch: ReadBatch = async ({ sheets, words, linkProblems }, files) => {
  const formats = new Map<string, Map<string | null, SheetFormat>>();
  for (const { file, sheet, mapping } of sheets)
    formats.set(file, (formats.get(file) ?? new Map()).set(sheet, mapping.format));
  const read = new Map<string, readonly SheetCells[]>();
  const cellsOf = (file: string, sheet: string | null): SheetCells => {
    const bytes = files.get(file);
    if (bytes === undefined) throw new StorageError("journal-file-missing", { file, path: file });
    const all = read.get(file) ?? readFile(bytes, file, (tab) => formats.get(file)?.get(tab));
    read.set(file, all);
    const found = all.find((each) => each.sheet === sheet);
    if (found === undefined)
      throw new AnalysisError("workbook-damaged", { file, tab: sheet, why: "the tab is not there" });
    return found;
  };
  const ordinary = sheets.filter(({ exported }) => exported !== true);
  const mapped = mapDrop({
    words,
    sheets: ordinary.map(({ file, sheet, mapping }) => ({ sheet: cellsOf(file, sheet), mapping })),
  });
  let next = 0;
  return {
    sheets: sheets.flatMap(({ file, mapping, exported }) => {
      if (exported !== true) return mapped[next++] ?? [];
      const [bytes, table] = [files.get(file), mapping.tables[0]?.table];
      if (bytes === undefined || table === undefined)
        throw new StorageError("journal-file-missing", { file, path: file });
      return readExportedTable(bytes, file, table);
    }),
    linkProblems,
  };
};
