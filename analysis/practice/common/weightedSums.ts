/**
 * Adds the sum over rows of weight x x' to the lower triangle of a k x k matrix.
 * Four rows at a time: each element of the matrix is read and written once for them, which is what the time goes into.
 *
 * @param values   Row by row, k to a row; `rows` of them are used.
 * @param matrix   k x k, row by row; the upper triangle is left alone.
 */
export function addCrossProducts(
  matrix: Float64Array,
  values: Float64Array,
  weights: Float64Array,
  rows: number,
  k: number,
): void {
  let i = 0;
  for (; i + 4 <= rows; i += 4) {
    const [first, second, third, fourth] = [i * k, (i + 1) * k, (i + 2) * k, (i + 3) * k] as const;
    const w1 = weights[i]!;
    const w2 = weights[i + 1]!;
    const w3 = weights[i + 2]!;
    const w4 = weights[i + 3]!;
    for (let a = 0; a < k; a++) {
      const x1 = w1 * values[first + a]!;
      const x2 = w2 * values[second + a]!;
      const x3 = w3 * values[third + a]!;
      const x4 = w4 * values[fourth + a]!;
      const line = a * k;
      for (let b = 0; b <= a; b++) {
        matrix[line + b]! +=
          x1 * values[first + b]! + x2 * values[second + b]! + x3 * values[third + b]! + x4 * values[fourth + b]!;
      }
    }
  }
  for (; i < rows; i++) {
    for (let a = 0; a < k; a++) {
      const x = weights[i]! * values[i * k + a]!;
      for (let b = 0; b <= a; b++) matrix[a * k + b]! += x * values[i * k + b]!;
    }
  }
}

/** Adds the sum over rows of weight x to a vector of k. */
export function addWeightedRows(
  vector: Float64Array,
  values: Float64Array,
  weights: Float64Array,
  rows: number,
  k: number,
): void {
  for (let i = 0; i < rows; i++) {
    const weight = weights[i]!;
    const offset = i * k;
    for (let a = 0; a < k; a++) vector[a]! += weight * values[offset + a]!;
  }
}
