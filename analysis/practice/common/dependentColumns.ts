import type { StandardDesign } from "./standardiseDesign.ts";
import { addCrossProducts } from "./weightedSums.ts";

/** Share of a column's spread that the columns before it must leave unexplained. */
const LEAST = 1e-10;

/**
 * Indexes of columns that are constant, or sums of columns before them: their effects cannot be told apart.
 * Elimination on the cross products in the order of the columns.
 */
export function dependentColumns({ rows, columns: k, values }: StandardDesign, weights: Float64Array): number[] {
  const products = new Float64Array(k * k);
  addCrossProducts(products, values, weights, rows, k);
  const factor = new Float64Array(k * k);
  const dependent: number[] = [];
  for (let a = 0; a < k; a++) {
    let left = products[a * k + a]!;
    for (let b = 0; b < a; b++) {
      let sum = products[a * k + b]!;
      for (let c = 0; c < b; c++) sum -= factor[a * k + c]! * factor[b * k + c]!;
      const pivot = factor[b * k + b]!;
      factor[a * k + b] = pivot > 0 ? sum / pivot : 0;
      left -= factor[a * k + b]! ** 2;
    }
    if (left > LEAST * products[a * k + a]! && left > 0) factor[a * k + a] = Math.sqrt(left);
    else dependent.push(a);
  }
  return dependent;
}
