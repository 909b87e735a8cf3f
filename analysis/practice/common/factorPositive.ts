/** Cholesky factor of a symmetric positive definite matrix, with what is asked of it. */
export interface PositiveFactor {
  readonly size: number;
  readonly logDeterminant: number;
  solve(right: Float64Array): Float64Array;
  inverse(): Float64Array;
}

/**
 * @param matrix  size x size, row by row; not changed.
 * @returns       Null where a pivot falls below `least` of its diagonal element: not positive definite in doubles.
 */
export function factorPositive(matrix: Float64Array, size: number, least = 1e-13): PositiveFactor | null {
  const factor = new Float64Array(size * size);
  let logDeterminant = 0;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * size + j]!;
      for (let k = 0; k < j; k++) sum -= factor[i * size + k]! * factor[j * size + k]!;
      if (i > j) factor[i * size + j] = sum / factor[j * size + j]!;
      else {
        if (!(sum > least * Math.abs(matrix[i * size + i]!) && sum < Number.POSITIVE_INFINITY)) return null;
        factor[i * size + i] = Math.sqrt(sum);
        logDeterminant += Math.log(sum);
      }
    }
  }
  const solve = (right: Float64Array): Float64Array => {
    const answer = Float64Array.from(right);
    for (let i = 0; i < size; i++) {
      let sum = answer[i]!;
      for (let k = 0; k < i; k++) sum -= factor[i * size + k]! * answer[k]!;
      answer[i] = sum / factor[i * size + i]!;
    }
    for (let i = size - 1; i >= 0; i--) {
      let sum = answer[i]!;
      for (let k = i + 1; k < size; k++) sum -= factor[k * size + i]! * answer[k]!;
      answer[i] = sum / factor[i * size + i]!;
    }
    return answer;
  };
  return {
    size,
    logDeterminant,
    solve,
    inverse: () => {
      const inverse = new Float64Array(size * size);
      const unit = new Float64Array(size);
      for (let j = 0; j < size; j++) {
        unit.fill(0);
        unit[j] = 1;
        const column = solve(unit);
        for (let i = 0; i < size; i++) inverse[i * size + j] = column[i]!;
      }
      return inverse;
    },
  };
}
