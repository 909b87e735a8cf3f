const numbered = new Intl.Collator("en", { numeric: true });

/** Order of record numbers as a shop counts them: "R-9" before "R-10". Total: only equal texts compare as 0. */
export function compareNumbers(a: string, b: string): number {
  if (a === b) return 0;
  return numbered.compare(a, b) || (a < b ? -1 : 1);
}

/**
 * Rows sorted by the days given, then by record number, then by everything they say: the same order however they came in.
 *
 * @param days    Days to sort by; NaN (not written down) comes last.
 * @param number  Record number of a row.
 */
export function inOrder<R>(
  rows: readonly R[],
  days: (row: R) => readonly number[],
  number: (row: R) => string,
): readonly R[] {
  return rows
    .map((row) => ({ row, days: days(row), number: number(row) }))
    .sort(
      (a, b) =>
        compareDays(a.days, b.days) ||
        compareNumbers(a.number, b.number) ||
        compareNumbers(JSON.stringify(a.row), JSON.stringify(b.row)),
    )
    .map(({ row }) => row);
}

function compareDays(a: readonly number[], b: readonly number[]): number {
  for (const [index, first] of a.entries()) {
    const second = b[index] ?? Number.NaN;
    if (first === second || (Number.isNaN(first) && Number.isNaN(second))) continue;
    return Number.isNaN(first) ? 1 : Number.isNaN(second) ? -1 : first - second;
  }
  return 0;
}
