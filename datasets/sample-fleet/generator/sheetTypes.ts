/** How one column of a shop's sheet is written and read: a header, the cell of a row, and the field it becomes. */
import type { RowRef } from "../../../analysis/records/descriptor.ts";
import type { AddedRows, SheetFormat, TableMapping } from "../../../analysis/records/mapping.ts";

export interface SheetText {
  /** File name under `sheets/`. */
  readonly file: string;
  readonly title: string;
  readonly text: string;
  readonly format: SheetFormat;
  readonly headers: readonly SheetHeader[];
  readonly tables: readonly TableMapping[];
  readonly addRows: readonly AddedRows[];
  /** Where each canonical row stands, by `placeOf`. */
  readonly places: ReadonlyMap<string, number>;
  /** Header of a canonical field, for pointing at a planted fault. A joint's fields are per joint. */
  readonly headerOf: (row: RowRef, column: string) => string | null;
}

export interface SheetHeader {
  readonly name: string;
  readonly description: string;
  readonly unit?: string;
}

export const placeOf = (row: RowRef): string => `${row.table} ${row.key}`;
