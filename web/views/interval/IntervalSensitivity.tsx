import { formatHours, formatNumber, type RedressIntervalResult } from "../../../analysis/index.ts";
import { fileName } from "../../state/saveFile.ts";
import { DataTable } from "../parts/DataTable.tsx";

/** The interval of least cost under other costs of a failure and other shapes, the estimate moved alone. */
export function IntervalSensitivity({ result }: { readonly result: RedressIntervalResult }) {
  const ratios = [...new Set(result.sensitivity.map(({ failureCostTimes }) => failureCostTimes))];
  const shapes = [...new Set(result.sensitivity.map(({ shapeTimes }) => shapeTimes))];
  const at = (shape: number, ratio: number) =>
    result.sensitivity.find((row) => row.shapeTimes === shape && row.failureCostTimes === ratio)?.optimum ?? null;
  return (
    <div>
      <DataTable
        caption="If costs or shapes were other"
        file={fileName(["interval sensitivity", result.item ?? result.toolType], "csv")}
        rows={shapes}
        keyOf={String}
        columns={[
          {
            title: "Shape times",
            show: (shape) => (shape === 1 ? "as fitted" : `× ${formatNumber(shape)}`),
            value: (shape) => shape,
          },
          ...ratios.map((ratio) => ({
            title: ratio === 1 ? "Cost as used" : `Failure × ${formatNumber(ratio)}`,
            numeric: true as const,
            show: (shape: number) => {
              const optimum = at(shape, ratio);
              return optimum === null ? "none pays" : formatHours(Math.round(optimum));
            },
            value: (shape: number) => at(shape, ratio),
          })),
        ]}
      />
      <p class="muted small">
        The interval of least cost where a failure costs more or less than used, and where the risk rises more or less
        steeply than fitted, with the same median lives.
      </p>
    </div>
  );
}
