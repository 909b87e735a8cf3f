/**
 * Quadratic form v' A^- v of a symmetric positive semi-definite matrix, by elimination with diagonal pivots.
 *
 * @returns  The form and the rank; directions without variance are left out.
 * Accuracy  A pivot below 1e-10 of the largest diagonal element counts as none.
 */
export function solveSymmetric(
  matrix: readonly (readonly number[])[],
  vector: readonly number[],
): { readonly quadraticForm: number; readonly rank: number } {
  const a = matrix.map((row) => [...row]);
  const v = [...vector];
  const left = new Set(v.keys());
  const limit = 1e-10 * Math.max(0, ...a.map((row, j) => row[j] ?? 0));
  let quadraticForm = 0;
  let rank = 0;
  while (left.size > 0) {
    const pivot = [...left].reduce((best, j) => ((a[j]?.[j] ?? 0) > (a[best]?.[best] ?? 0) ? j : best));
    const diagonal = a[pivot]?.[pivot] ?? 0;
    if (!(diagonal > limit)) break;
    left.delete(pivot);
    rank += 1;
    quadraticForm += (v[pivot] ?? 0) ** 2 / diagonal;
    for (const j of left) {
      const factor = (a[j]?.[pivot] ?? 0) / diagonal;
      v[j] = (v[j] ?? 0) - factor * (v[pivot] ?? 0);
      const row = a[j];
      if (row === undefined) continue;
      for (const k of left) row[k] = (row[k] ?? 0) - factor * (a[pivot]?.[k] ?? 0);
    }
  }
  return { quadraticForm, rank };
}
