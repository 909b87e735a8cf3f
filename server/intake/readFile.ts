import type { SheetCells, SheetFormat } from "../../analysis/index.ts";
import { fileKind } from "./fileKind.ts";
import { readSheet } from "./readSheet.ts";
import { readWorkbook } from "./workbook/readWorkbook.ts";

/** The format to read a sheet with, by the tab's name; null is the one sheet of a text file. */
export type FormatOf = (sheet: string | null) => SheetFormat | undefined;

/**
 * Reads the sheets of one file, text or workbook, as its bytes say.
 *
 * Errors  those of `fileKind`, `readSheet` and `readWorkbook`, each naming the file.
 */
export function readFile(
  bytes: Uint8Array,
  file: string,
  formatOf: FormatOf = () => undefined,
  onRows: (done: number) => void = () => undefined,
): readonly SheetCells[] {
  if (fileKind(bytes, file) === "workbook") return readWorkbook(bytes, file, { formatOf, onRows });
  const sheet = readSheet(bytes, file, formatOf(null));
  onRows(sheet.rows.length);
  return [sheet];
}
