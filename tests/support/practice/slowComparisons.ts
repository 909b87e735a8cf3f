/** Second implementations by going through every case there is: all tables, all orders, all draws. */

const factorial = (n: number): number => (n < 2 ? 1 : n * factorial(n - 1));
const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/** All tables with the margins of this one, each with its probability. */
export function allTables(table: readonly (readonly number[])[]): { readonly cells: number[][]; readonly p: number }[] {
  const rows = table.map(sum);
  const columns = (table[0] ?? []).map((_, j) => sum(table.map((row) => row[j] ?? 0)));
  const found: number[][][] = [];
  const fill = (cells: number[][], left: readonly number[]): void => {
    const i = cells.length;
    if (i === rows.length) {
      if (left.every((value) => value === 0)) found.push(cells);
      return;
    }
    const row = (taken: number[]): void => {
      if (taken.length === columns.length) {
        if (sum(taken) === rows[i])
          fill(
            [...cells, taken],
            left.map((value, j) => value - (taken[j] ?? 0)),
          );
        return;
      }
      for (let cell = 0; cell <= Math.min(left[taken.length] ?? 0, (rows[i] ?? 0) - sum(taken)); cell++)
        row([...taken, cell]);
    };
    row([]);
  };
  fill([], columns);
  const margins = [...rows, ...columns].reduce((product, total) => product * factorial(total), 1);
  return found.map((cells) => ({
    cells,
    p: margins / factorial(sum(rows)) / cells.flat().reduce((product, cell) => product * factorial(cell), 1),
  }));
}

/** P(cell above or equal) of a 2 x 2 table at an odds ratio, by weighting each table with ratio^cell. */
export function firstCellTail(
  table: readonly (readonly number[])[],
  ratio: number,
  side: "at least" | "at most",
): number {
  const a = table[0]?.[0] ?? 0;
  const weights = allTables(table).map(({ cells, p }) => ({
    x: cells[0]?.[0] ?? 0,
    weight: p * ratio ** (cells[0]?.[0] ?? 0),
  }));
  const inTail = weights.filter(({ x }) => (side === "at least" ? x >= a : x <= a));
  return sum(inTail.map(({ weight }) => weight)) / sum(weights.map(({ weight }) => weight));
}

/** All ways to choose m of the values as the first sample; the share with a W no larger, and no smaller, than seen. */
export function allDraws(
  x: readonly number[],
  y: readonly number[],
): { readonly below: number; readonly above: number } {
  const pool = [...x, ...y];
  const w = (first: readonly number[], second: readonly number[]): number =>
    sum(first.flatMap((a) => second.map((b) => (a > b ? 1 : a === b ? 0.5 : 0))));
  const seen = w(x, y);
  let [all, below, above] = [0, 0, 0];
  for (let bits = 0; bits < 2 ** pool.length; bits++) {
    const isFirst = pool.map((_, i) => (bits & (1 << i)) !== 0);
    if (isFirst.filter(Boolean).length !== x.length) continue;
    const value = w(
      pool.filter((_, i) => isFirst[i]),
      pool.filter((_, i) => !isFirst[i]),
    );
    all++;
    if (value <= seen) below++;
    if (value >= seen) above++;
  }
  return { below: below / all, above: above / all };
}

/** All orders of y; the share with a statistic no larger, and no smaller, than seen. */
export function allOrders(
  y: readonly number[],
  statistic: (order: readonly number[]) => number,
): { readonly below: number; readonly above: number } {
  const seen = statistic(y);
  let [all, below, above] = [0, 0, 0];
  const place = (order: number[], left: readonly number[]): void => {
    if (left.length === 0) {
      const value = statistic(order);
      all++;
      if (value <= seen + 1e-9) below++;
      if (value >= seen - 1e-9) above++;
    }
    left.forEach((value, i) => {
      place([...order, value], [...left.slice(0, i), ...left.slice(i + 1)]);
    });
  };
  place([], y);
  return { below: below / all, above: above / all };
}
