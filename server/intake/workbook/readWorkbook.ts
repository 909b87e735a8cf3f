import { AnalysisError, type Problem, type SheetCells, type SheetFormat } from "../../../analysis/index.ts";
import { longestCell, mostColumns } from "../readSheet.ts";
import { type CutRow, shapeSheet } from "../shapeSheet.ts";
import { markSpans, spreadMerges } from "./merges.ts";
import { type Tab, type WorkbookParts, workbookParts } from "./parts.ts";
import { readTab, type TabCells, TabLimitError } from "./readTab.ts";
import { unpack } from "./unpack.ts";
import { XmlError } from "./xml.ts";

export const mostTabs = 250;

export interface ReadWorkbookOptions {
  /** The format of a tab whose mapping was edited or stored; undefined where its cells decide. */
  readonly formatOf?: (tab: string) => SheetFormat | undefined;
  readonly onRows?: (done: number) => void;
  readonly unpackedBytes?: number;
}

/**
 * Reads the tabs of an .xlsx workbook: one sheet for each tab on which something is written, under its name. Merged cells
 * are spread over the lines they cover, formulas count by the value they were saved with, dates are written YYYY-MM-DD.
 *
 * Hidden and empty tabs, failed formulas and formulas without a value are notices of the sheet.
 *
 * Errors  "workbook-not-readable", "workbook-unpacks-too-large", "workbook-damaged", "too-many-tabs", "too-many-columns",
 *         "cell-too-long", "sheet-empty", each with file, and tab and line where there are any.
 */
export function readWorkbook(
  bytes: Uint8Array,
  file: string,
  { formatOf = () => undefined, onRows = () => undefined, unpackedBytes }: ReadWorkbookOptions = {},
): readonly SheetCells[] {
  const parts = unpack(bytes, file, unpackedBytes);
  if (!parts.has("xl/workbook.xml")) throw notAWorkbook(parts, file);
  const workbook = named({ file }, () => workbookParts(parts));
  if (workbook.tabs.length > mostTabs)
    throw new AnalysisError("too-many-tabs", { file, tabs: workbook.tabs.length, limit: mostTabs });

  const sheets: SheetCells[] = [];
  const empty: Problem[] = [];
  let before = 0;
  for (const tab of uniquelyNamed(workbook.tabs)) {
    const place = { file, tab: tab.name };
    const cells =
      tab.part === null ? null : named(place, () => cellsOf(tab, parts, workbook, (done) => onRows(before + done)));
    if (cells === null || cells.rows.length === 0) {
      empty.push(notice("tab-empty", file, tab.name, 1));
      continue;
    }
    before += cells.rows.length;
    sheets.push(sheetOf(cells, tab, file, formatOf(tab.name)));
  }
  const [first, ...more] = sheets;
  if (first === undefined) throw new AnalysisError("sheet-empty", { file });
  return empty.length === 0 ? sheets : [{ ...first, notices: [...empty, ...(first.notices ?? [])] }, ...more];
}

function cellsOf(
  tab: Tab,
  parts: ReadonlyMap<string, Uint8Array>,
  workbook: WorkbookParts,
  onRows: (done: number) => void,
): TabCells | null {
  const bytes = parts.get(tab.part ?? "");
  return bytes === undefined
    ? null
    : readTab(bytes, workbook, { columns: mostColumns, characters: longestCell }, onRows);
}

function sheetOf({ rows, merges, odd }: TabCells, tab: Tab, file: string, format: SheetFormat | undefined): SheetCells {
  const how = { encoding: "utf-8", delimiter: ",", comment: null } as const;
  const place = { file, tab: tab.name };
  const spread = (data: readonly CutRow[]) => spreadMerges(data, merges, place);
  const sheet = shapeSheet({ file, sheet: tab.name, rows: markSpans(rows, merges), how, spread }, format);
  const notices: Problem[] = tab.hidden ? [notice("tab-hidden", file, tab.name, sheet.headerLine)] : [];
  for (const { line, column, what, text } of odd) {
    if (line <= sheet.headerLine) continue;
    const code = what === "error" ? "cell-error" : "formula-without-value";
    const header = sheet.headers[column] ?? null;
    notices.push({ ...notice(code, file, tab.name, line), column: header, value: text === "" ? null : text });
  }
  return notices.length === 0 ? sheet : { ...sheet, notices };
}

const notice = (code: Problem["code"], file: string, sheet: string, line: number): Problem => ({
  code,
  severity: "notice",
  origin: { file, sheet, line },
  column: null,
  value: null,
  facts: {},
});

/** Spreadsheet programs give each tab its own name; a file made otherwise may not. */
function uniquelyNamed(tabs: readonly Tab[]): readonly Tab[] {
  const taken = new Set<string>();
  return tabs.map((tab) => {
    let name = tab.name.slice(0, 150);
    for (let copy = 2; taken.has(name); copy++) name = `${tab.name.slice(0, 140)} (${copy})`;
    taken.add(name);
    return { ...tab, name };
  });
}

/** Says which file and tab could not be read. */
function named<T>(place: { readonly file: string; readonly tab?: string }, read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (error instanceof XmlError) throw new AnalysisError("workbook-damaged", { ...place, why: error.message });
    if (error instanceof TabLimitError) {
      const { code, line, found } = error;
      const facts =
        code === "too-many-columns"
          ? { columns: found, limit: mostColumns }
          : { characters: found, limit: longestCell };
      throw new AnalysisError(code, { ...place, line, ...facts });
    }
    throw error;
  }
}

function notAWorkbook(parts: ReadonlyMap<string, Uint8Array>, file: string): AnalysisError {
  if (parts.has("xl/workbook.bin"))
    return new AnalysisError("workbook-not-readable", {
      file,
      looksLike: "a binary workbook (.xlsb)",
      remedy: "Save it as .xlsx and drop that.",
    });
  const looksLike =
    parts.has("content.xml") || parts.has("mimetype")
      ? "an open document, not an .xlsx workbook"
      : "a zip archive, not a workbook";
  return new AnalysisError("workbook-not-readable", {
    file,
    looksLike,
    remedy: "Save the sheets as .xlsx or CSV, or take them out of the archive, and drop them.",
  });
}
