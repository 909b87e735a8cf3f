import type { LifeSample } from "../../../analysis/estimation/types.ts";

export interface LifeRow {
  readonly lower: number;
  /** null: right-censored. */
  readonly upper: number | null;
  readonly entry?: number;
  readonly count?: number;
}

/** A sample out of plain rows. */
export function sampleOf(rows: readonly LifeRow[], unit = "h"): LifeSample {
  const lower = Float64Array.from(rows, (row) => row.lower);
  const upper = Float64Array.from(rows, (row) => row.upper ?? Number.POSITIVE_INFINITY);
  return {
    unit,
    n: rows.length,
    lower,
    lowerHigh: lower,
    upper,
    upperHigh: upper,
    entry: Float64Array.from(rows, (row) => row.entry ?? 0),
    count: Float64Array.from(rows, (row) => row.count ?? 1),
    ids: rows.map((_, i) => `life ${i + 1}`),
  };
}

/** Rows out of "9 13 13+ 18 2~5 7~": exact, exact, right-censored at 13, exact, failed in (2, 5], right-censored at 7. */
export function rowsOf(text: string): LifeRow[] {
  return text.split(" ").map((word): LifeRow => {
    const [low = "", high] = word.replace("+", "~").split("~");
    if (high === undefined) return { lower: Number(low), upper: Number(low) };
    return { lower: Number(low), upper: high === "" ? null : Number(high) };
  });
}
