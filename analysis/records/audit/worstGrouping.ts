/** Rows of one writer: one crew, one customer, one technician and year. */
export interface Writer<R> {
  readonly by: string;
  readonly name: string;
  readonly rows: readonly R[];
}

/**
 * Groups whose writing stands out, along the one way of grouping that shows it best. A habit of one crew also shows,
 * thinned, in every customer that crew works for; it is told once, where it is clearest.
 *
 * @param rows   In any order; a row without a name in a grouping belongs to no group of it.
 * @param ways   Name of the grouping, and the group of a row in it.
 * @param judge  P-value of a group's rows under honest writing; null where the group does not stand out.
 * @returns      Standing-out groups of that grouping, with p-values held against the number of groups tried; else, where
 *               no grouping shows anything, all rows together as "shop" if they stand out.
 */
export function worstGrouping<R>(
  rows: readonly R[],
  ways: Readonly<Record<string, (row: R) => string | null | undefined>>,
  judge: (rows: readonly R[]) => number | null,
  level: number,
): readonly Writer<R>[] {
  const groupings = Object.entries(ways).map(([by, nameOf]) => writersOf(rows, by, nameOf));
  const tried = groupings.reduce((sum, writers) => sum + writers.length, 1);
  const found = groupings.map((writers) =>
    writers.flatMap((writer) => {
      const p = judge(writer.rows);
      return p !== null && p * tried < level ? [{ writer, p }] : [];
    }),
  );
  const best = found
    .filter((group) => group.length > 0)
    .sort((a, b) => Math.min(...a.map(({ p }) => p)) - Math.min(...b.map(({ p }) => p)))[0];
  if (best !== undefined) return best.map(({ writer }) => writer);
  const p = judge(rows);
  return p !== null && p * tried < level ? [{ by: "shop", name: "shop", rows }] : [];
}

function writersOf<R>(rows: readonly R[], by: string, nameOf: (row: R) => string | null | undefined): Writer<R>[] {
  const groups = new Map<string, R[]>();
  for (const row of rows) {
    const name = nameOf(row);
    if (name == null) continue;
    const group = groups.get(name);
    if (group) group.push(row);
    else groups.set(name, [row]);
  }
  return [...groups].sort(([a], [b]) => (a < b ? -1 : 1)).map(([name, members]) => ({ by, name, rows: members }));
}
