/**
 * Workbooks made by hand, for what no writer makes: hidden tabs, the 1904 system, broken parts, bombs. The parts follow
 * ECMA-376, Part 1 (SpreadsheetML); only what a reader needs is written.
 */
import { type Zippable, zipSync } from "fflate";

export interface HandmadeTab {
  readonly name: string;
  readonly hidden?: true;
  /** Rows of cells: a text, a number, null for no cell, or the cell's XML with `@` for its reference. */
  readonly rows?: readonly (readonly (string | number | null)[])[];
  readonly merges?: readonly string[];
  /** The whole part, in place of rows. */
  readonly xml?: string;
}

export interface HandmadeWorkbook {
  readonly tabs: readonly HandmadeTab[];
  readonly from1904?: true;
  /** Format codes; style n of a cell is the n-th, style 0 is general. */
  readonly formats?: readonly string[];
  readonly strings?: readonly string[];
  readonly more?: Zippable;
}

const text = (part: string): Uint8Array => new TextEncoder().encode(part);
const escaped = (value: string): string =>
  value.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;").replace(/"/g, "&quot;");

export function columnName(index: number): string {
  const first = Math.floor(index / 26);
  return (first > 0 ? columnName(first - 1) : "") + String.fromCharCode(65 + (index % 26));
}

function cellXml(value: string | number | null, reference: string): string {
  if (value === null) return "";
  if (typeof value === "number") return `<c r="${reference}"><v>${value}</v></c>`;
  if (value.startsWith("<c")) return value.replaceAll("@", reference);
  return `<c r="${reference}" t="inlineStr"><is><t xml:space="preserve">${escaped(value)}</t></is></c>`;
}

export function tabXml({ rows = [], merges = [] }: HandmadeTab): string {
  const lines = rows.map((cells, index) => {
    const written = cells.map((cell, column) => cellXml(cell, `${columnName(column)}${index + 1}`)).join("");
    return written === "" ? "" : `<row r="${index + 1}">${written}</row>`;
  });
  const merged =
    merges.length === 0 ? "" : `<mergeCells>${merges.map((ref) => `<mergeCell ref="${ref}"/>`).join("")}</mergeCells>`;
  return `<?xml version="1.0" encoding="UTF-8"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>${lines.join("")}</sheetData>${merged}</worksheet>`;
}

/** The parts of a workbook, for a test to break one. */
export function workbookParts({ tabs, from1904, formats = [], strings = [], more = {} }: HandmadeWorkbook): Zippable {
  const relation = (id: string, type: string, target: string) =>
    `<Relationship Id="${id}" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/${type}" Target="${target}"/>`;
  const listed = tabs.map(
    ({ name, hidden }, index) =>
      `<sheet name="${escaped(name)}" sheetId="${index + 1}"${hidden ? ' state="hidden"' : ""} r:id="rId${index + 1}"/>`,
  );
  const relations = [
    ...tabs.map((_, index) => relation(`rId${index + 1}`, "worksheet", `worksheets/sheet${index + 1}.xml`)),
    relation("rIdS", "styles", "styles.xml"),
    relation("rIdT", "sharedStrings", "sharedStrings.xml"),
  ];
  const main = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"';
  return {
    "[Content_Types].xml": text("<Types/>"),
    "xl/workbook.xml": text(
      `<workbook ${main} xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><workbookPr${from1904 ? ' date1904="1"' : ""}/><sheets>${listed.join("")}</sheets></workbook>`,
    ),
    "xl/_rels/workbook.xml.rels": text(`<Relationships>${relations.join("")}</Relationships>`),
    "xl/styles.xml": text(
      `<styleSheet ${main}><numFmts>${formats.map((code, index) => `<numFmt numFmtId="${200 + index}" formatCode="${escaped(code)}"/>`).join("")}</numFmts><cellXfs><xf numFmtId="0"/>${formats.map((_, index) => `<xf numFmtId="${200 + index}"/>`).join("")}</cellXfs></styleSheet>`,
    ),
    "xl/sharedStrings.xml": text(
      `<sst ${main}>${strings.map((each) => `<si><t>${escaped(each)}</t></si>`).join("")}</sst>`,
    ),
    ...Object.fromEntries(
      tabs.map((tab, index) => [`xl/worksheets/sheet${index + 1}.xml`, text(tab.xml ?? tabXml(tab))] as const),
    ),
    ...more,
  };
}

export const handmadeWorkbook = (workbook: HandmadeWorkbook): Uint8Array =>
  zipSync(workbookParts(workbook), { level: 1 });
