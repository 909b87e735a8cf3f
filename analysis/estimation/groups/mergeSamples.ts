import { AnalysisError } from "../../errors.ts";
import type { LifeSample } from "../types.ts";

/** The lives of several samples as one. Errors "bad-setting" for samples in different units, "no-lives" for none. */
export function mergeSamples(samples: readonly LifeSample[]): LifeSample {
  const [first] = samples;
  if (!first) throw new AnalysisError("no-lives", { method: "groups" });
  const other = samples.find(({ unit }) => unit !== first.unit);
  if (other) throw new AnalysisError("bad-setting", { setting: "unit", value: other.unit, expected: first.unit });
  type Column = "lower" | "lowerHigh" | "upper" | "upperHigh" | "entry" | "count";
  const join = (column: Column): Float64Array => Float64Array.from(samples.flatMap((sample) => [...sample[column]]));
  return {
    unit: first.unit,
    n: samples.reduce((sum, { n }) => sum + n, 0),
    lower: join("lower"),
    lowerHigh: join("lowerHigh"),
    upper: join("upper"),
    upperHigh: join("upperHigh"),
    entry: join("entry"),
    count: join("count"),
    ids: samples.every(({ ids }) => ids !== null) ? samples.flatMap(({ ids }) => ids ?? []) : null,
  };
}
