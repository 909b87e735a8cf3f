import type { StandardDesign } from "./standardiseDesign.ts";

/**
 * The linear map from (intercept, standardised coefficients, rest) to those of the columns as they were:
 *   b_j = b'_j / range_j,   intercept = intercept' - sum b_j mean_j
 *
 * @param rest  Coordinates after the coefficients, left as they are.
 */
export function unstandardise(
  design: StandardDesign,
  rest: number,
): {
  readonly point: (at: readonly number[]) => number[];
  readonly covariance: (matrix: Float64Array) => number[][];
} {
  const { columns: k, means, ranges } = design;
  const m = 1 + k + rest;
  const map = new Float64Array(m * m);
  for (let i = 0; i < m; i++) map[i * m + i] = i >= 1 && i <= k ? 1 / ranges[i - 1]! : 1;
  for (let j = 0; j < k; j++) map[1 + j] = -means[j]! / ranges[j]!;
  const row = (i: number): Float64Array => map.subarray(i * m, (i + 1) * m);
  const dot = (a: Float64Array, b: ArrayLike<number>): number => a.reduce((sum, value, i) => sum + value * b[i]!, 0);
  return {
    point: (at) => Array.from({ length: m }, (_, i) => dot(row(i), at)),
    covariance: (matrix) => {
      const half = Array.from({ length: m }, (_, i) =>
        Array.from({ length: m }, (_, j) => dot(row(i), matrix.subarray(j * m, (j + 1) * m))),
      );
      return Array.from({ length: m }, (_, i) => Array.from({ length: m }, (_, j) => dot(row(j), half[i]!)));
    },
  };
}
