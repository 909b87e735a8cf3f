/**
 * Two-sided exact p of Spearman's S = sum of squared rank differences: twice the smaller tail over all n! orders.
 *
 * @param n  2 to 9, no ties.
 */
export function spearmanExactP(n: number, s: number): number {
  const seen = Math.round(s);
  let [below, above, all] = [0, 0, 0];
  const place = (i: number, used: number, sum: number): void => {
    if (i === n) {
      all++;
      if (sum <= seen) below++;
      if (sum >= seen) above++;
      return;
    }
    for (let j = 0; j < n; j++) if ((used & (1 << j)) === 0) place(i + 1, used | (1 << j), sum + (i - j) ** 2);
  };
  place(0, 0, 0);
  return Math.min(1, (2 * Math.min(below, above)) / all);
}

/** Two-sided exact p of the number of concordant pairs among n values without ties: twice the smaller tail. */
export function kendallExactP(n: number, concordant: number): number {
  // The number of concordant pairs is a sum of independent uniform counts on 0..i for i = 0..n - 1.
  let law = [1];
  for (let i = 1; i < n; i++) {
    const next = new Array<number>(law.length + i).fill(0);
    law.forEach((p, k) => {
      for (let j = 0; j <= i; j++) next[k + j]! += p / (i + 1);
    });
    law = next;
  }
  const sum = (from: number, to: number): number => law.slice(from, to).reduce((total, p) => total + p, 0);
  return Math.min(1, 2 * Math.min(sum(0, concordant + 1), sum(concordant, law.length)));
}
