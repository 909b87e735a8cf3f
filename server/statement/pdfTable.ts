import type { Content, TableCell } from "pdfmake/interfaces.js";
import type { StatementCell, StatementTable } from "../../analysis/index.ts";
import { textWidth, type Weight } from "../../web/charts/text/measure.ts";
import { keepTogether } from "./keepTogether.ts";

/**
 * A table of the statement on paper. Its title is a row of the head, so it never parts from the table and stands on every
 * page that the table goes on to; its note and the result it comes from are the last row, so they never stand without a head.
 */
export function pdfTable(table: StatementTable): Content {
  const { title, columns, rows, note, result } = table;
  const fontSize = columns.length > 8 ? 7.5 : columns.length > 6 ? 8.5 : 9.5;
  const across = (cell: TableCell): TableCell[] => [
    Object.assign(cell, { colSpan: columns.length }),
    ...columns.slice(1).map(() => ({ text: "" })),
  ];
  const body: TableCell[][] = [
    across({ text: title, style: "tableTitle" }),
    columns.map(({ title: heading, kind }) => ({
      text: heading,
      bold: true,
      alignment: kind === "number" ? "right" : "left",
    })),
    ...rows.map((row) =>
      row.map((cell): TableCell => {
        const text = keepTogether(textOf(cell));
        return typeof cell === "string" ? { text } : { text, alignment: "right" };
      }),
    ),
    across({
      stack: [
        ...(note === null ? [] : [{ text: keepTogether(note), style: "note" }]),
        { text: `Result ${result}`, style: "from" },
      ],
    }),
  ];
  const lastRule = body.length - 1;
  return {
    table: { headerRows: 2, dontBreakRows: true, keepWithHeaderRows: 1, widths: widthsOf(table, fontSize), body },
    fontSize,
    layout: {
      hLineWidth: (at) => (at <= 1 || at > lastRule ? 0 : at === 2 || at === lastRule ? 0.8 : 0.3),
      hLineColor: (at) => (at === 2 ? "#5C6165" : "#C9C4B8"),
      vLineWidth: () => 0,
      paddingLeft: (at) => (at === 0 ? 0 : 4),
      paddingRight: () => 4,
      paddingTop: () => 2,
      paddingBottom: () => 1.5,
    },
  };
}

const textOf = (cell: StatementCell): string => (typeof cell === "string" ? cell : cell.text);

/**
 * Text columns share what the numbers leave; a name and what it stands for take what they need. In a wide table a column of
 * numbers is as wide as its longest word, for no word may be broken.
 */
function widthsOf({ columns, rows }: StatementTable, fontSize: number): ("*" | "auto" | number)[] {
  if (columns.length === 2 && columns.every(({ kind }) => kind === "text")) return ["auto", "*"];
  return columns.map(({ title, kind }, at) => {
    if (kind === "text") return "*";
    if (columns.length <= 6) return "auto";
    const cells = rows.map((row) => longestWord(textOf(row[at] ?? ""), fontSize, "regular"));
    return Math.ceil(Math.max(columns.length > 8 ? 34 : 44, longestWord(title, fontSize, "semibold"), ...cells)) + 1;
  });
}

const longestWord = (text: string, fontSize: number, weight: Weight): number =>
  Math.max(...text.split(" ").map((word) => textWidth(word, fontSize, weight)));
