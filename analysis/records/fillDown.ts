type Rows = readonly { readonly cells: readonly string[] }[];

const neededTogether = 0.2;
const neededAlone = 0.5;

/**
 * Finds the columns in which a blank seems to mean "as above": those at the left that are written on the first line of
 * a block and left blank on the rest of it, while columns further right are written on every line. Each is blank on
 * lines where the one before it is blank too. A proposal: a person confirms it.
 *
 * Conventions  Two columns or more that go blank together need a fifth of the lines blank, a column alone a half.
 *
 * @returns  Headers in the order of the sheet; none where the sheet is not written in blocks.
 */
export function decideFillDown(headers: readonly string[], rows: Rows): readonly string[] {
  if (rows.length < 3) return [];
  const isBlankAt = (row: number, column: number): boolean => (rows[row]?.cells[column] ?? "").trim() === "";
  const candidates: number[] = [];
  let outer: readonly number[] | null = null;
  for (let column = 0; column < headers.length - 1; column++) {
    const blanks = rows.flatMap((_, row) => (isBlankAt(row, column) ? [row] : []));
    if (isBlankAt(0, column) || blanks.length === 0) break;
    const within: ReadonlySet<number> | null = outer === null ? null : new Set(outer);
    if (within !== null && !blanks.every((row) => within.has(row))) break;
    candidates.push(column);
    outer = blanks;
  }
  // A blank line of a block says something further right; else it is a line with a hole, not a block.
  const innermost = outer ?? [];
  const further = headers.map((_, column) => column).slice(candidates.length);
  const continued = innermost.filter((row) => further.some((column) => !isBlankAt(row, column))).length;
  const dense = further.some((column) => innermost.every((row) => !isBlankAt(row, column)));
  const needed = candidates.length > 1 ? neededTogether : neededAlone;
  if (innermost.length < Math.max(2, rows.length * needed) || continued < innermost.length || !dense) return [];
  return candidates.map((column) => headers[column] ?? "");
}

/**
 * The cells of each line with the blanks of some columns taken from the nearest line above that is written there. The
 * lines given stay as they are.
 */
export function filledDown(
  headers: readonly string[],
  rows: Rows,
  columns: readonly string[],
): readonly (readonly string[])[] {
  const indexes = columns.flatMap((header) => {
    const index = headers.indexOf(header);
    return index < 0 ? [] : [index];
  });
  if (indexes.length === 0) return rows.map(({ cells }) => cells);
  const last = new Map<number, string>();
  return rows.map(({ cells }) => {
    const filled = [...cells];
    for (const index of indexes) {
      const written = cells[index] ?? "";
      if (written.trim() !== "") last.set(index, written);
      else filled[index] = last.get(index) ?? "";
    }
    for (let index = 0; index < filled.length; index++) filled[index] ??= "";
    return filled;
  });
}
