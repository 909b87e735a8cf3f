import type { DesignMatrix } from "../types.ts";

/** Columns moved to mean 0 and stretched to range 1, in which the search is free of units; the design stays as it was. */
export interface StandardDesign {
  readonly rows: number;
  readonly columns: number;
  /** (value - mean) / range, row by row. */
  readonly values: Float64Array;
  readonly means: Float64Array;
  /** Largest less smallest; 0 for a constant column, whose standardised values are 0. */
  readonly ranges: Float64Array;
  /** Standard deviation of the standardised column (weighted by count). */
  readonly deviations: Float64Array;
}

/**
 * @param weights  One a row, > 0: counts.
 */
export function standardiseDesign({ rows, names, values }: DesignMatrix, weights: Float64Array): StandardDesign {
  const k = names.length;
  const means = new Float64Array(k);
  const ranges = new Float64Array(k);
  const deviations = new Float64Array(k);
  const standard = new Float64Array(rows * k);
  let total = 0;
  for (let i = 0; i < rows; i++) total += weights[i]!;
  for (let j = 0; j < k; j++) {
    let least = Number.POSITIVE_INFINITY;
    let most = Number.NEGATIVE_INFINITY;
    let sum = 0;
    for (let i = 0; i < rows; i++) {
      const value = values[i * k + j]!;
      least = Math.min(least, value);
      most = Math.max(most, value);
      sum += weights[i]! * value;
    }
    const mean = sum / total;
    // A difference in the last digits of a large number is no spread.
    const range = most - least > 1e-12 * Math.max(Math.abs(most), Math.abs(least)) ? most - least : 0;
    let squares = 0;
    for (let i = 0; i < rows; i++) {
      const value = range > 0 ? (values[i * k + j]! - mean) / range : 0;
      standard[i * k + j] = value;
      squares += weights[i]! * value * value;
    }
    means[j] = mean;
    ranges[j] = range;
    deviations[j] = Math.sqrt(squares / total);
  }
  return { rows, columns: k, values: standard, means, ranges, deviations };
}
