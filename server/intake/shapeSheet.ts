import {
  AnalysisError,
  commonWidth,
  decideDateOrders,
  decidedDecimal,
  decideFillDown,
  decideHeaderLines,
  joinHeaders,
  normalisePhrase,
  type SheetCells,
  type SheetFormat,
  tabNameHeader,
  whySetAsideHeader,
} from "../../analysis/index.ts";

import { unguarded } from "./repairSheet.ts";

/** A line of a sheet on which something is written. */
export interface CutRow {
  readonly line: number;
  readonly cells: readonly string[];
  /** Last column of each cell that is merged over several. */
  readonly spans?: ReadonlyMap<number, number>;
  /** Columns that hold a number of a workbook, written with a point. */
  readonly numbers?: ReadonlySet<number>;
}

export interface CutSheet {
  readonly file: string;
  readonly sheet: string | null;
  readonly rows: readonly CutRow[];
  readonly how: Pick<SheetFormat, "encoding" | "delimiter" | "comment">;
  /** Spreads merged cells, in the lines below the headers only. */
  readonly spread?: (data: readonly CutRow[]) => readonly CutRow[];
}

/**
 * Tells headers from rows, and what the cells say about themselves: decimal sign, order of day and month, columns in
 * which a blank seems to mean "as above". What `format` says is followed.
 *
 * Headers are trimmed; an empty one is named by its place ("column 7"), a repeated one is numbered ("Torque (2)"). The
 * column "why set aside" of lines given back for repair is left out, and the apostrophe that kept a spreadsheet from
 * running a cell of such a line as a formula is taken off. A tab gets its name as a column at its right.
 *
 * Errors  "sheet-empty".
 */
export function shapeSheet(
  { file, sheet, rows: written, how, spread = (rows) => rows }: CutSheet,
  format?: SheetFormat,
): SheetCells {
  const place = { file, ...(sheet === null ? {} : { tab: sheet }) };
  const found = format === undefined ? decideHeaderLines(written) : null;
  const skipLines = found?.first ?? format?.skipLines ?? 0;
  const lines = found?.lines ?? format?.headerLines ?? 1;
  const upper = written[skipLines];
  const lower = lines === 2 ? written[skipLines + 1] : undefined;
  if (upper === undefined || (lines === 2 && lower === undefined)) throw new AnalysisError("sheet-empty", place);

  const data = spread(written.slice(skipLines + lines));
  const joined = joinHeaders(upper, lower ?? null);
  const reason = joined.findLastIndex((cell) => normalisePhrase(cell) === whySetAsideHeader);
  const own = reason < 0 ? data : data.map((row) => ({ ...row, cells: withoutReason(row.cells, reason) }));
  const headers = namedHeaders(reason < 0 ? joined : withoutReason(joined, reason), own);
  const decimal = format?.decimal ?? decidedDecimal(textCells(own)) ?? ".";
  const plain = own.map((row) => ({ line: row.line, cells: cellsWith(row, decimal) }));
  const dateOrder =
    format?.dateOrder ??
    Object.fromEntries(decideDateOrders(headers, plain).map((column) => [column.header, column.order]));
  const proposed = format === undefined ? decideFillDown(headers, plain) : [];
  const fillDown = format?.fillDown ?? (proposed.length > 0 ? proposed : undefined);
  const tab = sheet === null ? null : tabColumn(headers, sheet);
  return {
    file,
    sheet,
    format: {
      ...how,
      decimal,
      skipLines,
      ...(lines === 2 ? { headerLines: lines } : {}),
      ...(fillDown === undefined ? {} : { fillDown }),
      dateOrder,
    },
    headers: tab === null ? headers : tab.headers,
    headerLine: (lower ?? upper).line,
    rows: tab === null ? plain : plain.map(({ line, cells }) => ({ line, cells: tab.cells(cells) })),
  };
}

const withoutReason = (cells: readonly string[], reason: number): readonly string[] =>
  cells.filter((_, column) => column !== reason).map(unguarded);

function namedHeaders(cells: readonly string[], rows: readonly CutRow[]): readonly string[] {
  const writtenWidth = (row: readonly string[]) => row.findLastIndex((cell) => cell.trim() !== "") + 1;
  const { width } = commonWidth(rows.map((row) => writtenWidth(row.cells)));
  const used = new Set<string>();
  return Array.from({ length: Math.max(writtenWidth(cells), width) }, (_, index) => {
    const base = cells[index] || `column ${index + 1}`;
    let name = base;
    for (let i = 2; used.has(name.toLowerCase()); i++) name = `${base} (${i})`;
    used.add(name.toLowerCase());
    return name;
  });
}

/** The cells that somebody typed as text: in a workbook only these show which decimal sign the shop uses. */
function* textCells(rows: readonly CutRow[]): Iterable<string> {
  for (const { cells, numbers } of rows) {
    if (numbers === undefined || numbers.size === 0) yield* cells;
    else for (const [column, cell] of cells.entries()) if (!numbers.has(column)) yield cell;
  }
}

function cellsWith({ cells, numbers }: CutRow, decimal: "." | ","): readonly string[] {
  if (decimal === "." || numbers === undefined || numbers.size === 0) return cells;
  return cells.map((cell, column) => (numbers.has(column) ? cell.replace(".", ",") : cell));
}

function tabColumn(headers: readonly string[], sheet: string) {
  const width = headers.length;
  return {
    headers: [...headers.filter((header) => header !== tabNameHeader), tabNameHeader],
    // Lines shorter than the headers are padded; one that is longer keeps what has no column, behind the tab's name.
    cells: (cells: readonly string[]): readonly string[] => [
      ...Array.from({ length: width }, (_, column) => cells[column] ?? ""),
      sheet,
      ...cells.slice(width),
    ],
  };
}
