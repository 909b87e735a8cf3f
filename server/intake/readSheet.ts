import { CsvError, parse } from "csv-parse/sync";
import {
  AnalysisError,
  decideComment,
  decideDelimiter,
  logicalLines,
  type SheetCells,
  type SheetFormat,
} from "../../analysis/index.ts";
import { decodeText } from "./decodeText.ts";
import { type CutRow, shapeSheet } from "./shapeSheet.ts";

export const largestSheetBytes = 64 * 1024 * 1024;
export const mostColumns = 400;
/** As many as a spreadsheet program can show. */
const mostLines = 1_048_576;
export const longestCell = 10_000;

/**
 * Cuts the bytes of one delimited-text sheet into cells, as written, each row with the line it starts on.
 *
 * Found from the bytes unless `format` says so: encoding, delimiter, comment sign, title lines, header lines, decimal
 * sign, and the order of day and month per column. Lines on which nothing is written are no rows. The rest is
 * `shapeSheet`.
 *
 * Errors  "sheet-too-large", "sheet-not-text", "sheet-empty", "too-many-columns", "too-many-lines", "cell-too-long", "quote-not-closed",
 *         with file, line and limit.
 */
export function readSheet(bytes: Uint8Array, file: string, format?: SheetFormat): SheetCells {
  if (bytes.length > largestSheetBytes) {
    throw new AnalysisError("sheet-too-large", { file, bytes: bytes.length, limit: largestSheetBytes });
  }
  const { text, encoding } = decodeText(bytes, file, format?.encoding);
  refuseTooLong(text, file);
  const lines = logicalLines(text);
  const comment = format === undefined ? decideComment(lines) : format.comment;
  const uncommented = comment === null ? lines : lines.filter((line) => !line.startsWith(comment));
  const delimiter = format?.delimiter ?? decideDelimiter(uncommented);
  const rows = cutRows(text, file, delimiter, comment);
  return shapeSheet({ file, sheet: null, rows, how: { encoding, delimiter, comment } }, format);
}

function refuseTooLong(text: string, file: string): void {
  let count = 1;
  for (let at = text.indexOf("\n"); at >= 0; at = text.indexOf("\n", at + 1)) count++;
  if (count > mostLines + 1) throw new AnalysisError("too-many-lines", { file, lines: count, limit: mostLines });
}

/** All rows on which something is written. */
function cutRows(text: string, file: string, delimiter: SheetFormat["delimiter"], comment: string | null): CutRow[] {
  const records = parseRecords(text, file, delimiter, comment);
  const rows: CutRow[] = [];
  for (const { record, info } of records) {
    if (record.every((cell) => cell.trim() === "")) continue;
    const breaks = record.reduce((sum, cell) => sum + (cell.match(/\r\n|\n|\r/g)?.length ?? 0), 0);
    const line = info.lines - breaks;
    if (record.length > mostColumns) {
      throw new AnalysisError("too-many-columns", { file, line, columns: record.length, limit: mostColumns });
    }
    const long = record.find((cell) => cell.length > longestCell);
    if (long !== undefined) {
      throw new AnalysisError("cell-too-long", { file, line, characters: long.length, limit: longestCell });
    }
    rows.push({ line, cells: record });
  }
  return rows;
}

type ParsedRecord = { readonly record: readonly string[]; readonly info: { readonly lines: number } };

function parseRecords(text: string, file: string, delimiter: string, comment: string | null): readonly ParsedRecord[] {
  try {
    const records: readonly unknown[] = parse(text, {
      delimiter,
      info: true,
      relax_quotes: true,
      relax_column_count: true,
      skip_empty_lines: false,
      record_delimiter: ["\r\n", "\n", "\r"],
      ...(comment === null ? {} : { comment, comment_no_infix: true }),
    });
    return records as readonly ParsedRecord[];
  } catch (error) {
    if (error instanceof CsvError && error.code === "CSV_QUOTE_NOT_CLOSED") {
      throw new AnalysisError("quote-not-closed", { file, line: lineOfOpenQuote(text, delimiter) });
    }
    const why = error instanceof Error ? error.message.slice(0, 200) : "not readable";
    throw new AnalysisError("sheet-not-text", { file, looksLike: why });
  }
}

/** The last line on which a cell begins with a quote that is not closed on it: where to look for the missing one. */
function lineOfOpenQuote(text: string, delimiter: string): number {
  const lines = text.split(/\r\n|\n|\r/);
  const opens = (line: string) =>
    line.split(delimiter).some((cell) => cell.trimStart().startsWith('"') && (cell.match(/"/g)?.length ?? 0) % 2 === 1);
  return lines.findLastIndex(opens) + 1;
}
