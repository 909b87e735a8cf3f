/** Rows by group, groups and rows in the order they come. */
export function groupBy<R>(rows: readonly R[], by: (row: R) => string): ReadonlyMap<string, readonly R[]> {
  const groups = new Map<string, R[]>();
  for (const row of rows) {
    const group = groups.get(by(row));
    if (group) group.push(row);
    else groups.set(by(row), [row]);
  }
  return groups;
}
