import { AnalysisError } from "../../../analysis/index.ts";
import type { CutRow } from "../shapeSheet.ts";
import type { Merge } from "./readTab.ts";

/** Marks on each line how far its merged cells reach to the right: a header over several columns is a group. */
export function markSpans(rows: readonly CutRow[], merges: readonly Merge[]): readonly CutRow[] {
  const spans = new Map<number, Map<number, number>>();
  for (const { firstLine, firstColumn, lastColumn } of merges) {
    if (lastColumn === firstColumn) continue;
    const own = spans.get(firstLine) ?? new Map<number, number>();
    spans.set(firstLine, own.set(firstColumn, lastColumn));
  }
  return rows.map((row) => {
    const own = spans.get(row.line);
    return own === undefined ? row : { ...row, spans: own };
  });
}

/**
 * The text of a merged cell in every cell it covers, as far as the lines are written at all. A cell of its own that a
 * merge hides is kept.
 *
 * Errors  "workbook-damaged" where merged cells overlap.
 */
export function spreadMerges(
  rows: readonly CutRow[],
  merges: readonly Merge[],
  place: { readonly file: string; readonly tab: string },
): readonly CutRow[] {
  if (merges.length === 0) return rows;
  const width = rows.reduce((most, { cells }) => Math.max(most, cells.length), 0);
  const indexOf = new Map(rows.map(({ line }, index) => [line, index]));
  const spread = rows.map(({ line, cells, numbers }) => ({ line, cells: [...cells], numbers: new Set(numbers) }));
  let area = 0;
  for (const { firstLine, lastLine, firstColumn, lastColumn } of merges) {
    const start = indexOf.get(firstLine);
    const source = start === undefined ? undefined : spread[start];
    const text = source?.cells[firstColumn] ?? "";
    if (start === undefined || source === undefined || text.trim() === "") continue;
    const end = Math.min(lastColumn, width - 1);
    const isNumber = source.numbers.has(firstColumn);
    for (let index = start; index < spread.length; index++) {
      const row = spread[index];
      if (row === undefined || row.line > lastLine) break;
      area += end - firstColumn + 1;
      if (area > rows.length * (width + 1))
        throw new AnalysisError("workbook-damaged", { ...place, why: "its merged cells overlap" });
      for (let column = firstColumn; column <= end; column++) {
        while (row.cells.length <= column) row.cells.push("");
        if ((row.cells[column] ?? "").trim() !== "") continue;
        row.cells[column] = text;
        if (isNumber) row.numbers.add(column);
      }
    }
  }
  return spread;
}
