import { quantileSorted } from "simple-statistics";
import type { ScopedRun } from "./scopedData.ts";
import type { Spread, StatementResult } from "./types.ts";

/** What the counted runs went through, as far as it was written down: median, and one in ten below and above. */
export function conditionsOf(runs: readonly ScopedRun[]): StatementResult["conditions"] {
  const spread = (of: (one: ScopedRun) => number | null | undefined): Spread => {
    const values = runs.flatMap((one) => of(one) ?? []).sort((a, b) => a - b);
    if (values.length === 0) return { known: 0, median: null, low: null, high: null };
    const [low = 0, median = 0, high = 0] = [0.1, 0.5, 0.9].map((share) => quantileSorted(values, share));
    return { known: values.length, median, low, high };
  };
  return {
    runHours: spread(({ run }) => run.hours),
    temperature_C: spread(({ run }) => run.max_temperature_C),
    depth_m: spread(({ run }) => run.depth_m),
    pressure_MPa: spread(({ run }) => run.differential_pressure_MPa),
  };
}
