import type { RedressIntervalResult } from "../../analysis/index.ts";
import type { Cell, ChartTable } from "./chartTable.ts";

/** The curves of an interval as rows, one a grid age. */
export function intervalRows({ curves }: RedressIntervalResult): ChartTable {
  const lines = [curves.costRate, curves.stoppedBefore, curves.nextRun];
  return {
    columns: [
      "interval_h",
      ...["cost_per_1000_h", "stopped_before", "stopped_in_next_run"].flatMap((name) => [
        name,
        `${name}_lower`,
        `${name}_upper`,
      ]),
    ],
    rows: curves.age.map((age, at): Cell[] => [
      age,
      ...lines.flatMap((line): Cell[] => [line.value[at] ?? null, line.lower[at] ?? null, line.upper[at] ?? null]),
    ]),
  };
}
