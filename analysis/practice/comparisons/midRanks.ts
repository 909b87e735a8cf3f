/** Ranks from 1, tied values sharing the mean of theirs; and sum of t^3 - t over groups of t tied values. */
export function midRanks(values: readonly number[]): { readonly ranks: number[]; readonly tieSum: number } {
  const ascending = values.map((_, i) => i).sort((a, b) => values[a]! - values[b]!);
  const ranks = new Array<number>(values.length).fill(0);
  let tieSum = 0;
  for (let from = 0; from < ascending.length; ) {
    let to = from + 1;
    while (to < ascending.length && values[ascending[to]!] === values[ascending[from]!]) to++;
    const tied = to - from;
    tieSum += tied ** 3 - tied;
    for (let k = from; k < to; k++) ranks[ascending[k]!] = 0.5 * (from + 1 + to);
    from = to;
  }
  return { ranks, tieSum };
}
