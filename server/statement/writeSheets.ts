import writeXlsxFile, { type Row, type Sheet } from "write-excel-file/node";
import { plainText, type StatementCell, type StatementDocument, type StatementTable } from "../../analysis/index.ts";
import { withoutFormula } from "../routes/csv.ts";
import { figuresOf } from "./figuresOf.ts";
import type { StatementIssue } from "./issue.ts";
import { tablesOf } from "./picturesOf.ts";
import { sayIssue } from "./sayIssue.ts";

/** The statement as an XLSX workbook: what it says, every figure of its sentences, every table on a tab of its own. */
export async function writeSheets(document: StatementDocument, issue: StatementIssue): Promise<Uint8Array> {
  const names = new Set<string>();
  const sheets: Sheet<Buffer>[] = [
    { sheet: nameFor("In short", names), data: inShort(document, issue), columns: [{ width: 110 }] },
    {
      sheet: nameFor("Figures in sentences", names),
      data: figures(document),
      columns: [22, 22, 16, 16, 90].map((width) => ({ width })),
    },
    ...tablesOf(document).map((table) => ({
      sheet: nameFor(table.title, names),
      data: tableRows(table),
      columns: table.columns.map(({ kind }) => ({ width: kind === "number" ? 14 : 28 })),
    })),
  ];
  return new Uint8Array(await writeXlsxFile(sheets).toBuffer());
}

const text = (value: string): { readonly value: string; readonly type: StringConstructor } => ({
  value: withoutFormula(value),
  type: String,
});
const bold = (value: string) => ({ ...text(value), fontWeight: "bold" as const, wrap: true });

function inShort(
  { title, subtitle, marking, summary, contentHash, dataHash, engineVersion }: StatementDocument,
  issue: StatementIssue,
): Row[] {
  const lines = [
    ...(marking === null ? [] : [marking]),
    sayIssue(issue),
    ...summary.map(plainText),
    ...issue.changes.map((change) => `Changed since the last statement: ${change}`),
    `Content ${contentHash}, records ${dataHash}, engine ${engineVersion}`,
  ];
  return [[bold(title)], [bold(subtitle)], ...lines.map((line): Row => [{ ...text(line), wrap: true }])];
}

function figures(document: StatementDocument): Row[] {
  return [
    ["Section", "As said", "Value", "Result", "Sentence"].map(bold),
    ...figuresOf(document).map(
      ({ section, text: said, value, result, sentence }): Row => [
        text(section),
        text(said),
        value === null ? text("not known") : { value, type: Number },
        text(result),
        text(sentence),
      ],
    ),
  ];
}

function tableRows({ title, columns, rows, note, result }: StatementTable): Row[] {
  return [
    [bold(title)],
    columns.map(({ title: heading }) => bold(heading)),
    ...rows.map((row): Row => row.map(cellOf)),
    ...(note === null ? [] : [[text(note)]]),
    [text(`Result ${result}`)],
  ];
}

function cellOf(cell: StatementCell): Row[number] {
  if (typeof cell === "string") return text(cell);
  if (cell.value === null) return cell.text === "" ? null : { ...text(cell.text), align: "right" as const };
  return { value: cell.value, type: Number, format: Number.isInteger(cell.value) ? "#,##0" : "#,##0.0###" };
}

/** A tab's name: at most 31 characters, none of []:*?/\, and no other tab's. */
function nameFor(title: string, taken: Set<string>): string {
  const clean = title
    .replace(/[[\]:*?/\\']/g, " ")
    .replace(/\s+/g, " ")
    .trim();
  for (let count = 1; ; count++) {
    const end = count === 1 ? "" : ` ${count}`;
    const name = `${clean.slice(0, 31 - end.length).trim()}${end}`;
    if (!taken.has(name.toLowerCase())) {
      taken.add(name.toLowerCase());
      return name;
    }
  }
}
