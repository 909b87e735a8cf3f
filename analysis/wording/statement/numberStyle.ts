import type { DecimalMark } from "../../statement/types.ts";
import { type Inline, isFigure, type StatementBlock, type StatementCell, type StatementDocument } from "./document.ts";

/** A number with a thousands comma or a decimal point; no version, clause, name or code. */
const number = /(?<![\p{L}\d.,_/-])(?:\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+\.\d+)(?![\p{L}\d]|[.,]\d)/gu;
/** The level that closes bounds: a comma before it would read as part of the number. */
const level = /, (?=\d+(?:,\d+)? %\))/gu;

/**
 * A text with its numbers as the reader writes them: "1,234.5 (0.43–1.4, 90 %)" as "1 234,5 (0,43–1,4; 90 %)".
 *
 * Conventions  Thousands are set apart by a no-break space, as no reader takes it for a decimal mark.
 * Source       ISO 80000-1:2009, 7.3 (from memory): the decimal sign is a comma or a point, groups of three a small space.
 */
export function withDecimalMark(text: string, mark: DecimalMark): string {
  if (mark === "point") return text;
  return text.replace(number, (found) => found.replaceAll(",", "\u00A0").replace(".", ",")).replace(level, "; ");
}

/** A statement with all its numbers as the reader writes them. Values stay numbers. */
export function documentWithDecimalMark(document: StatementDocument, mark: DecimalMark): StatementDocument {
  if (mark === "point") return document;
  const text = (one: string): string => withDecimalMark(one, mark);
  // A level can stand in the text after the figure that it closes, so figures are put right one by one and texts too.
  const inline = (all: Inline): Inline =>
    all.map((one) => (isFigure(one) ? { ...one, text: text(one.text) } : text(one)));
  const cell = (one: StatementCell): StatementCell =>
    typeof one === "string" ? text(one) : { ...one, text: text(one.text) };
  const block = (one: StatementBlock): StatementBlock => {
    switch (one.kind) {
      case "paragraph":
        return { ...one, text: inline(one.text) };
      case "list":
        return { ...one, items: one.items.map(inline) };
      case "caution":
        return { ...one, title: text(one.title), items: one.items.map(inline) };
      case "picture":
        return { ...one, finding: text(one.finding) };
      case "table":
        return {
          ...one,
          title: text(one.title),
          columns: one.columns.map((column) => ({ ...column, title: text(column.title) })),
          rows: one.rows.map((row) => row.map(cell)),
          note: one.note === null ? null : text(one.note),
        };
    }
  };
  return {
    ...document,
    summary: document.summary.map(inline),
    sections: document.sections.map((section) => ({
      ...section,
      title: text(section.title),
      blocks: section.blocks.map(block),
    })),
  };
}
