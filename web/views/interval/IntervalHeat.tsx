import {
  type AgeLimit,
  formatEstimate,
  formatExact,
  formatHours,
  formatNumber,
  formatTemperature,
  type HeatOfWells,
  type RedressIntervalResult,
  sayHeatVerdict,
} from "../../../analysis/index.ts";
import { fileName } from "../../state/saveFile.ts";
import { DataTable } from "../parts/DataTable.tsx";

interface IntervalHeatProps {
  readonly result: RedressIntervalResult;
  readonly heat: HeatOfWells;
}

/** What hotter and cooler wells do to the limits, and which modes that rests on. */
export function IntervalHeat({ result, heat }: IntervalHeatProps) {
  const { risk } = result;
  const name = result.item ?? result.toolType;
  const allowed = `${formatNumber(100 * risk.allowedChance)} %`;
  return (
    <>
      {heat.byTemperature.length === 0 ? null : (
        <DataTable
          caption={`In cooler and hotter wells, for a chance of ${allowed}`}
          fill
          file={fileName(["interval heat", name], "csv")}
          rows={heat.byTemperature}
          keyOf={({ celsius }) => String(celsius)}
          columns={[
            {
              title: "Well",
              show: ({ celsius }) => <span class="whole">{formatTemperature(celsius)}</span>,
              value: ({ celsius }) => celsius,
            },
            {
              title: "Redress by",
              numeric: true,
              show: ({ beforeRedress }) => <strong>{sayLimit(beforeRedress)}</strong>,
              value: ({ beforeRedress }) => beforeRedress.age,
            },
            {
              title: `Begin ${formatHours(risk.runHours)} by`,
              numeric: true,
              show: ({ nextRun }) => sayLimit(nextRun),
              value: ({ nextRun }) => nextRun.age,
            },
            {
              title: "Least cost at",
              numeric: true,
              show: ({ optimum }) => (optimum === null ? "none pays" : formatHours(Math.round(optimum))),
              value: ({ optimum }) => optimum,
            },
          ]}
        />
      )}
      <DataTable
        caption="Which modes follow the heat"
        fill
        file={fileName(["heat of modes", name], "csv")}
        rows={heat.modes}
        keyOf={({ item, mode }) => `${item} ${mode}`}
        columns={[
          {
            title: "Mode",
            show: ({ item, mode, defect }) => `${item}, ${defect === null ? mode : `${defect} then ${mode}`}`,
            value: ({ item, mode }) => `${item}, ${mode}`,
          },
          {
            title: "Failures",
            numeric: true,
            show: ({ failures }) => formatExact(failures),
            value: ({ failures }) => failures,
          },
          {
            title: "Activation energy",
            numeric: true,
            show: ({ energy }) => formatEstimate(energy),
            value: ({ energy }) => energy.value,
          },
          { title: "Follows the heat", show: sayHeatVerdict, value: sayHeatVerdict },
        ]}
      />
      <p class="muted small">
        Limits are upper bounds, were every hour run at that temperature; 90 % of the hours here were run between{" "}
        {formatTemperature(heat.lowC)} and {formatTemperature(heat.highC)}. A mode follows the heat where its lives fit
        hours that count by temperature (Arrhenius) clearly better than hours that count alike, allowing for the number
        of modes tested. The energy is a slope across the wells of this shop, with all that went along with their heat;
        it is no property of a rubber.
      </p>
    </>
  );
}

const sayLimit = ({ age, beyondGrid }: AgeLimit): string =>
  age === null ? "no age" : `${beyondGrid ? "beyond " : ""}${formatHours(Math.floor(age))}`;
