import { CsvError, parse } from "csv-parse/sync";
import {
  AnalysisError,
  commonWidth,
  decideComment,
  decideDateOrders,
  decideDecimal,
  decideDelimiter,
  decideHeaderRow,
  logicalLines,
  type SheetCells,
  type SheetFormat,
} from "../../analysis/index.ts";
import { decodeText } from "./decodeText.ts";

export const largestSheetBytes = 64 * 1024 * 1024;
const mostColumns = 400;
const longestCell = 10_000;

interface CutRow {
  readonly line: number;
  readonly cells: readonly string[];
}

/**
 * Cuts the bytes of one delimited-text sheet into cells, as written, each row with the line it starts on.
 *
 * Found from the bytes unless `format` says so: encoding, delimiter, comment sign, title lines, decimal sign, and the
 * order of day and month per column. Lines on which nothing is written are no rows. Headers are trimmed; an empty one
 * is named by its place ("column 7"), a repeated one is numbered ("Torque (2)").
 *
 * Errors  "sheet-too-large", "sheet-not-text", "sheet-empty", "too-many-columns", "cell-too-long", "quote-not-closed",
 *         with file, line and limit.
 */
export function readSheet(bytes: Uint8Array, file: string, format?: SheetFormat): SheetCells {
  if (bytes.length > largestSheetBytes) {
    throw new AnalysisError("sheet-too-large", { file, bytes: bytes.length, limit: largestSheetBytes });
  }
  const { text, encoding } = decodeText(bytes, file, format?.encoding);
  const lines = logicalLines(text);
  const comment = format === undefined ? decideComment(lines) : format.comment;
  const uncommented = comment === null ? lines : lines.filter((line) => !line.startsWith(comment));
  const delimiter = format?.delimiter ?? decideDelimiter(uncommented);
  const written = cutRows(text, file, delimiter, comment);
  const skipLines = format?.skipLines ?? decideHeaderRow(written.map((row) => row.cells));
  const header = written[skipLines];
  if (header === undefined) throw new AnalysisError("sheet-empty", { file });

  const rows = written.slice(skipLines + 1);
  const headers = namedHeaders(header.cells, rows);
  const decimal = format?.decimal ?? decideDecimal(cellsOf(rows));
  const dateOrder =
    format?.dateOrder ??
    Object.fromEntries(decideDateOrders(headers, rows).map((column) => [column.header, column.order]));
  return {
    file,
    sheet: null,
    format: { encoding, delimiter, decimal, skipLines, comment, dateOrder },
    headers,
    headerLine: header.line,
    rows,
  };
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

function namedHeaders(cells: readonly string[], rows: readonly CutRow[]): readonly string[] {
  const writtenWidth = (row: readonly string[]) => row.findLastIndex((cell) => cell.trim() !== "") + 1;
  const { width } = commonWidth(rows.map((row) => writtenWidth(row.cells)));
  const used = new Set<string>();
  return Array.from({ length: Math.max(writtenWidth(cells), width) }, (_, index) => {
    const base = cells[index]?.replace(/\s+/g, " ").trim() || `column ${index + 1}`;
    let name = base;
    for (let i = 2; used.has(name.toLowerCase()); i++) name = `${base} (${i})`;
    used.add(name.toLowerCase());
    return name;
  });
}

function* cellsOf(rows: readonly CutRow[]): Iterable<string> {
  for (const row of rows) yield* row.cells;
}
