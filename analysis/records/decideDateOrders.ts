import type { DateOrder } from "./mapping.ts";
import { type DateParts, dateParts } from "./parseDate.ts";

/** Order of the dates in one column, and what decided it. */
export interface DateColumn {
  readonly header: string;
  readonly order: DateOrder;
  /**
   * "own order": every cell names its order (ISO, or the month in words). "cells": a number of 13 to 31 stands where
   * only a day can. "other columns": no cell decides, another column of the sheet does. "assumed": nothing decides;
   * day first is assumed and a person must confirm.
   */
  readonly because: "own order" | "cells" | "other columns" | "assumed";
  /** A cell that decided, or the first that could be read both ways. */
  readonly example: string;
}

/** The share of a column's written cells that must be dates before it counts as a column of dates. */
const neededShare = 0.6;

/**
 * Finds the date columns of a sheet and decides the order of day, month and year of each from all its cells.
 *
 * Conventions  Where cells contradict each other, the order more cells demand is taken; the others then fail as
 *              impossible dates, line by line. Day first is assumed where nothing decides.
 */
export function decideDateOrders(
  headers: readonly string[],
  rows: readonly { readonly cells: readonly string[] }[],
): readonly DateColumn[] {
  const columns = headers.flatMap((header, index) => {
    const cells = rows.map((row) => row.cells[index]?.trim() ?? "").filter((cell) => cell !== "");
    const dates = cells.flatMap((cell) => {
      const parts = dateParts(cell);
      return parts === null ? [] : [{ cell, parts }];
    });
    return dates.length === 0 || dates.length < cells.length * neededShare ? [] : [decided(header, dates)];
  });
  const elsewhere = new Set(columns.filter((column) => column.because === "cells").map((column) => column.order));
  const [only] = elsewhere;
  return columns.map((column) =>
    column.because === "assumed" && only !== undefined && elsewhere.size === 1
      ? { ...column, order: only, because: "other columns" }
      : column,
  );
}

function decided(header: string, dates: readonly { readonly cell: string; readonly parts: DateParts }[]): DateColumn {
  let [dayFirst, monthFirst, yearFirst] = [0, 0, 0];
  let open: string | null = null;
  const example = new Map<DateOrder, string>();
  for (const { cell, parts } of dates) {
    if (parts.kind === "own order") continue;
    open ??= cell;
    if (parts.first > 31) {
      yearFirst++;
      example.set("ymd", example.get("ymd") ?? cell);
    } else if (parts.first > 12 && parts.second <= 12) {
      dayFirst++;
      example.set("dmy", example.get("dmy") ?? cell);
    } else if (parts.second > 12 && parts.first <= 12) {
      monthFirst++;
      example.set("mdy", example.get("mdy") ?? cell);
    }
  }
  if (open === null) return { header, order: "ymd", because: "own order", example: dates[0]?.cell ?? "" };
  const most = Math.max(dayFirst, monthFirst, yearFirst);
  if (most === 0) return { header, order: "dmy", because: "assumed", example: open };
  const order = most === dayFirst ? "dmy" : most === monthFirst ? "mdy" : "ymd";
  return { header, order, because: "cells", example: example.get(order) ?? open };
}
