import { isBlank } from "./cellValue.ts";
import type { FieldDescriptor, TableName } from "./descriptor.ts";
import { type HeaderParts, headerParts } from "./headerParts.ts";
import { lookUpWord } from "./lookUpWord.ts";
import type { SheetCells, VocabularyName, WordList } from "./mapping.ts";
import { parseNumber } from "./parseNumber.ts";
import { isConvertible, unitOf } from "./units.ts";

/** A column of a sheet with what its cells look like. Shares are of the cells on which something is written. */
export interface SheetColumn extends HeaderParts {
  readonly cells: readonly string[];
  readonly isDate: boolean;
  readonly numbers: number;
  readonly yesNo: number;
  readonly conditions: number;
  /** Share of numbers that carry a unit of their own ("62.5 h"). */
  readonly ownUnits: number;
}

const cellsLookedAt = 600;

/** Looks at every column of a sheet once. */
export function sheetColumns(sheet: SheetCells, words: WordList): readonly SheetColumn[] {
  return sheet.headers.map((header, index) => {
    const cells = sheet.rows
      .slice(0, cellsLookedAt)
      .map((row) => (row.cells[index] ?? "").trim())
      .filter((cell) => !isBlank(cell));
    const share = (test: (cell: string) => boolean) =>
      cells.length === 0 ? 0 : cells.filter(test).length / cells.length;
    const number = (cell: string) => parseNumber(cell, sheet.format.decimal);
    return {
      ...headerParts(header),
      cells,
      isDate: Object.hasOwn(sheet.format.dateOrder, header),
      numbers: share((cell) => {
        const read = number(cell);
        return read !== null && (read.rest === "" || unitOf(read.rest) !== null);
      }),
      yesNo: share((cell) => lookUpWord(words, "yes or no", cell) !== undefined),
      conditions: share((cell) => lookUpWord(words, "conditions", cell) !== undefined),
      ownUnits: share((cell) => unitOf(number(cell)?.rest || "-") !== null),
    };
  });
}

/** Whether the cells and the unit of a column can be what the field holds. A column without cells can be anything. */
export function columnFits(column: SheetColumn, field: FieldDescriptor): boolean {
  if (column.unit !== null && field.unit !== undefined && !isConvertible(column.unit, field.unit)) return false;
  if (column.unit !== null && field.unit === undefined && field.type !== "string" && column.unit !== "d") return false;
  if (column.cells.length === 0) return true;
  if (field.type === "date") return column.isDate;
  if (column.isDate) return false;
  if (field.name === "severity") return column.numbers > 0.4 || column.conditions < 0.5;
  if (field.type === "number" || field.type === "integer") return column.numbers > 0.3;
  if (field.type === "boolean") return column.yesNo > 0.4;
  if (field.name === "condition") return column.numbers < 0.5;
  if (field.name === "item" || field.name === "item_seen") {
    return column.numbers < 0.5 && column.yesNo < 0.5 && column.conditions < 0.5;
  }
  return true;
}

const vocabularies: { readonly [T in TableName]?: Readonly<Record<string, VocabularyName>> } = {
  tool_items: { item: "items" },
  modes: { item: "items" },
  tools: { status: "tool status" },
  redresses: { reason: "redress reasons", pressure_test: "pressure test" },
  joints: { joint: "items", new_thread: "yes or no" },
  fitted_items: { item: "items", renewed: "yes or no" },
  runs: { hours_kind: "hours kind", pulled_because: "pulled because", item_seen: "items", mode_seen: "conditions" },
  teardowns: { why: "teardown why", kind: "teardown kind", scope: "items" },
  findings: { item: "items", condition: "conditions", severity: "severity", caused_by: "conditions" },
  decisions: { item: "items" },
};

/** The vocabulary in which the words of a field are read, undefined for plain text. */
export const vocabularyOf = (table: TableName, field: string): VocabularyName | undefined =>
  vocabularies[table]?.[field];
