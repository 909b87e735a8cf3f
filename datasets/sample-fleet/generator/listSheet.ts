/** A list as a sheet: one column a field, one line a row. */
import { keyOf, type Row, type TableName } from "../../../analysis/records/descriptor.ts";
import type { ColumnRule, SheetFormat, TableMapping } from "../../../analysis/records/mapping.ts";
import { delimitedText } from "./delimited.ts";
import { placeOf, type SheetText } from "./sheetTypes.ts";

interface ListColumn<T extends TableName> {
  readonly header: string;
  readonly field: keyof Row<T> & string;
  readonly description: string;
  readonly unit?: string;
  readonly rule?: Omit<ColumnRule, "from">;
  readonly cell: (row: Row<T>) => string;
}

interface ListSheet<T extends TableName> {
  readonly table: T;
  readonly file: string;
  readonly title: string;
  readonly before: readonly string[];
  readonly format: SheetFormat;
  readonly columns: readonly ListColumn<T>[];
  readonly more?: Readonly<Record<string, ColumnRule>>;
}

export const commaFormat: SheetFormat = {
  encoding: "utf-8",
  delimiter: ",",
  decimal: ".",
  skipLines: 0,
  comment: null,
  dateOrder: {},
};

export function listSheet<T extends TableName>(sheet: ListSheet<T>, rows: readonly Row<T>[]): SheetText {
  const headers = sheet.columns.map((column) => column.header);
  const cells = rows.map((row) => sheet.columns.map((column) => column.cell(row)));
  const { text, firstLine } = delimitedText(sheet.before, headers, cells, sheet.format.delimiter);
  const columns: Record<string, ColumnRule> = { ...sheet.more };
  for (const { field, header, rule } of sheet.columns) columns[field] = { from: header, ...rule };
  const table: TableMapping = { table: sheet.table, columns };
  return {
    file: sheet.file,
    title: sheet.title,
    text,
    format: sheet.format,
    headers: sheet.columns.map(({ header, description, unit }) => ({
      name: header,
      description,
      ...(unit ? { unit } : {}),
    })),
    tables: [table],
    addRows: [],
    places: new Map(
      rows.map((row, index) => [placeOf({ table: sheet.table, key: keyOf(sheet.table, row) }), firstLine + index]),
    ),
    headerOf: (_row, name) => sheet.columns.find((column) => column.field === name)?.header ?? null,
  };
}
