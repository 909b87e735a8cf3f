/**
 * Solves A x = b for a symmetric positive semi-definite A by Cholesky factors.
 *
 * @param matrix  Rows of A; overwritten.
 * Accuracy       A pivot below 1e-12 of its diagonal element is lifted to that, so directions without curvature give a
 *                long but finite step.
 */
export function solveCholesky(matrix: readonly Float64Array[], right: Float64Array): Float64Array {
  const size = right.length;
  const x = Float64Array.from(right);
  for (let j = 0; j < size; j += 1) {
    const row = matrix[j];
    if (row === undefined) continue;
    const diagonal = row[j] ?? 0;
    for (let k = 0; k <= j; k += 1) {
      const other = matrix[k];
      if (other === undefined) continue;
      let sum = row[k] ?? 0;
      for (let l = 0; l < k; l += 1) sum -= (row[l] ?? 0) * (other[l] ?? 0);
      if (k < j) row[k] = sum / (other[k] ?? 1);
      else row[j] = Math.sqrt(Math.max(sum, 1e-12 * diagonal, 1e-300));
    }
  }
  for (let j = 0; j < size; j += 1) {
    const row = matrix[j];
    let sum = x[j] ?? 0;
    for (let k = 0; k < j; k += 1) sum -= (row?.[k] ?? 0) * (x[k] ?? 0);
    x[j] = sum / (row?.[j] ?? 1);
  }
  for (let j = size - 1; j >= 0; j -= 1) {
    let sum = x[j] ?? 0;
    for (let k = j + 1; k < size; k += 1) sum -= (matrix[k]?.[j] ?? 0) * (x[k] ?? 0);
    x[j] = sum / (matrix[j]?.[j] ?? 1);
  }
  return x;
}
