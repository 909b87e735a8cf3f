import type { LifeSample } from "../types.ts";

/**
 * The same lives with every age multiplied.
 *
 * @param factor  > 0; a number, or one a life.
 * @returns       `logJacobian`: what to add to a log likelihood of the scaled lives to have that of the lives themselves
 *                (log factor for each failure whose density, not probability, enters).
 */
export function scaledSample(
  sample: LifeSample,
  factor: number | Float64Array,
): { readonly sample: LifeSample; readonly logJacobian: number } {
  const of = (row: number): number => (typeof factor === "number" ? factor : factor[row]!);
  const scale = (column: Float64Array): Float64Array => column.map((age, row) => age * of(row));
  let logJacobian = 0;
  for (let row = 0; row < sample.n; row++) {
    const isDensity = sample.lower[row] === sample.upper[row] && sample.lowerHigh[row] === sample.upperHigh[row];
    if (isDensity) logJacobian += sample.count[row]! * Math.log(of(row));
  }
  return {
    sample: {
      ...sample,
      lower: scale(sample.lower),
      lowerHigh: scale(sample.lowerHigh),
      upper: scale(sample.upper),
      upperHigh: scale(sample.upperHigh),
      entry: scale(sample.entry),
    },
    logJacobian,
  };
}
