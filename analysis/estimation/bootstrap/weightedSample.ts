import type { LifeSample } from "../types.ts";

/** The lives whose weight is above 0, each counted with that weight. */
export function weightedSample(sample: LifeSample, weights: Float64Array): LifeSample {
  const rows: number[] = [];
  for (let row = 0; row < sample.n; row++) if (weights[row]! > 0) rows.push(row);
  const pick = (column: Float64Array): Float64Array => Float64Array.from(rows, (row) => column[row]!);
  return {
    unit: sample.unit,
    n: rows.length,
    lower: pick(sample.lower),
    lowerHigh: pick(sample.lowerHigh),
    upper: pick(sample.upper),
    upperHigh: pick(sample.upperHigh),
    entry: pick(sample.entry),
    count: pick(weights),
    ids: sample.ids ? rows.map((row) => sample.ids![row]!) : null,
  };
}
