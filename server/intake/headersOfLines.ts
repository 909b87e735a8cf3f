import { AnalysisError, type SheetCells, type SheetFormat } from "../../analysis/index.ts";
import type { Headers, HeadersQuestion } from "../work/dropTasks.ts";
import { readFile } from "./readFile.ts";

/** Finds the headers over lines of a file: read as it is by itself, or by one of the formats that were confirmed. */
export function headersOfLines({ file, tab, formats, lines }: HeadersQuestion): Headers | null {
  for (const format of [undefined, ...formats]) {
    const sheet = sheetOf(file.bytes, file.file, tab, format);
    if (sheet !== null && holds(sheet, lines)) return { headers: sheet.headers, format: sheet.format };
  }
  return null;
}

function sheetOf(
  bytes: Uint8Array,
  file: string,
  tab: string | null,
  format: SheetFormat | undefined,
): SheetCells | null {
  try {
    return readFile(bytes, file, () => format).find(({ sheet }) => sheet === tab) ?? null;
  } catch (error) {
    // Another sheet's format need not fit this file.
    if (error instanceof AnalysisError) return null;
    throw error;
  }
}

/** A blank may have been filled with what stood above. */
function holds({ rows }: SheetCells, lines: HeadersQuestion["lines"]): boolean {
  const cellsAt = new Map(rows.map(({ line, cells }) => [line, cells]));
  return lines.every(({ line, cells }) =>
    cellsAt.get(line)?.every((cell, i) => cell.trim() === "" || cell === cells[i]),
  );
}
