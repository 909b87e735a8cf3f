export interface LeastSquares {
  readonly fitted: Float64Array;
  /** Share of the weighted spread of y that the columns leave unexplained, 0 to 1. */
  readonly shareLeft: number;
}

/**
 * Weighted least squares of y on an intercept and columns; a column that is a sum of others changes nothing.
 *
 * @param columns  Each as long as y.
 * @param weights  >= 0, not all 0.
 * @returns        `shareLeft` 1 where y does not vary at all.
 */
export function weightedLeastSquares(
  y: Float64Array,
  columns: readonly Float64Array[],
  weights: Float64Array,
): LeastSquares {
  const n = y.length;
  let total = 0;
  for (let i = 0; i < n; i++) total += weights[i]!;
  const centred = (
    values: Float64Array,
  ): { readonly mean: number; readonly values: Float64Array; readonly square: number } => {
    let mean = 0;
    for (let i = 0; i < n; i++) mean += (weights[i]! * values[i]!) / total;
    let square = 0;
    const moved = values.map((value) => value - mean);
    for (let i = 0; i < n; i++) square += weights[i]! * moved[i]! ** 2;
    return { mean, values: moved, square };
  };
  const target = centred(y);
  const used: Float64Array[] = [];
  // Modified Gram-Schmidt under the weights: a dependent column leaves nothing and is passed over.
  for (const column of columns) {
    const own = centred(column);
    if (!(own.square > 0)) continue;
    const left = own.values;
    for (let pass = 0; pass < 2; pass++) {
      for (const basis of used) {
        let dot = 0;
        for (let i = 0; i < n; i++) dot += weights[i]! * left[i]! * basis[i]!;
        for (let i = 0; i < n; i++) left[i]! -= dot * basis[i]!;
      }
    }
    let square = 0;
    for (let i = 0; i < n; i++) square += weights[i]! * left[i]! ** 2;
    if (!(square > 1e-9 * own.square)) continue;
    const scale = 1 / Math.sqrt(square);
    used.push(left.map((value) => value * scale));
  }
  const fitted = new Float64Array(n).fill(target.mean);
  let left = target.square;
  for (const basis of used) {
    let dot = 0;
    for (let i = 0; i < n; i++) dot += weights[i]! * target.values[i]! * basis[i]!;
    left -= dot * dot;
    for (let i = 0; i < n; i++) fitted[i]! += dot * basis[i]!;
  }
  return { fitted, shareLeft: target.square > 0 ? Math.max(0, left / target.square) : 1 };
}
