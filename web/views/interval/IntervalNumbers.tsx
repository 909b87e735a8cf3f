import {
  type AgeLimit,
  type Estimate,
  formatHours,
  formatNumber,
  type RedressIntervalResult,
  sayBound,
  sayDemonstration,
  sayLevel,
  sayReading,
} from "../../../analysis/index.ts";
import { fileName } from "../../state/saveFile.ts";
import { DataTable } from "../parts/DataTable.tsx";

interface NumberRow {
  readonly name: string;
  readonly shown: string;
  readonly lower: string;
  readonly upper: string;
  readonly values: readonly [number | null, number | null, number | null];
}

/** The interval, what it costs and risks, what it is worth, and the limits of the allowed chance. */
export function IntervalNumbers({ result }: { readonly result: RedressIntervalResult }) {
  const { recommended, optimum, runToFailure, risk, today, currency } = result;
  const { confidence } = result.definition;
  const money = `${currency ?? "planned redresses"} per 1,000 h`;
  const of = (name: string, estimate: Estimate, times = 1, unit = ""): NumberRow => {
    const scaled = scaledBy(estimate, times);
    const end = unit === "" || scaled.value === null ? "" : ` ${unit}`;
    return {
      name,
      shown: `${sayReading(scaled)}${end}`,
      lower: sayBound(scaled, "lower"),
      upper: sayBound(scaled, "upper"),
      values: [estimate.value, estimate.lower, estimate.upper],
    };
  };
  const plain = (name: string, shown: string, value: number | null): NumberRow => ({
    name,
    shown,
    lower: "",
    upper: "",
    values: [value, null, null],
  });
  const chosen: NumberRow[] =
    recommended === null
      ? []
      : [
          plain("Interval of least cost on the whole", formatHours(Math.round(recommended.age)), recommended.age),
          plain(
            "Within 5 % of the least cost",
            `${formatNumber(recommended.flatFrom)}–${formatHours(recommended.flatTo)}${recommended.flatToEnd ? " and on" : ""}`,
            null,
          ),
          of(`Cost there, ${money}`, recommended.costRate),
          of("Chance of a stopped job before it", recommended.stoppedBefore, 100, "%"),
          of("Saved against running until a failure", recommended.saving, 100, "%"),
          ...(recommended.againstToday === null
            ? []
            : [of("Saved against redressing as now", recommended.againstToday.saving, 100, "%")]),
          recommended.regretMean === null || recommended.regretUpper === null
            ? plain("Cost of not knowing better", "not told yet", null)
            : {
                name: "Cost of not knowing better",
                shown: `${formatNumber(100 * recommended.regretMean)} % on average`,
                lower: "",
                upper: `${formatNumber(100 * recommended.regretUpper)} %`,
                values: [recommended.regretMean, null, recommended.regretUpper],
              },
        ];
  const now: NumberRow[] =
    today === null
      ? []
      : [
          plain(
            `Today: half of ${formatNumber(today.planned)} planned redresses`,
            `${formatNumber(today.quarter)}–${formatHours(today.threeQuarters)}`,
            today.middle,
          ),
        ];
  const rows: NumberRow[] = [
    of("Interval of least cost", optimum),
    ...chosen,
    of(`Cost without planned redresses, ${money}`, runToFailure),
    limitRow(`Redress by, for ${formatNumber(100 * risk.allowedChance)} % before the redress`, risk.beforeRedress),
    limitRow(
      `Begin a ${formatHours(risk.runHours)} run by, for ${formatNumber(100 * risk.allowedChance)} % in it`,
      risk.nextRun,
    ),
    ...now,
  ];
  return (
    <div>
      <DataTable
        caption="The interval and its risk"
        fill
        file={fileName(["interval", result.item ?? result.toolType], "csv")}
        rows={rows}
        keyOf={({ name }) => name}
        columns={[
          { title: "Reading", show: ({ name }) => name, value: ({ name }) => name },
          {
            title: "Estimate",
            numeric: true,
            show: ({ shown }) => <strong>{shown}</strong>,
            value: ({ values }) => values[0],
          },
          {
            title: sayLevel(confidence, "below"),
            numeric: true,
            show: ({ lower }) => lower,
            value: ({ values }) => values[1],
          },
          {
            title: sayLevel(confidence, "above"),
            numeric: true,
            show: ({ upper }) => upper,
            value: ({ values }) => values[2],
          },
        ]}
      />
      <p class="muted small">{sayDemonstration(risk)}</p>
    </div>
  );
}

const scaledBy = (estimate: Estimate, times: number): Estimate => ({
  ...estimate,
  value: estimate.value === null ? null : estimate.value * times,
  lower: estimate.lower === null ? null : estimate.lower * times,
  upper: estimate.upper === null ? null : estimate.upper * times,
});

/** An age limit: the bound is what counts, the estimate stands beside it. */
function limitRow(name: string, { age, estimate, beyondGrid }: AgeLimit): NumberRow {
  const hours = (value: number | null) => (value === null ? "no age" : formatHours(Math.floor(value)));
  return {
    name,
    shown: hours(estimate),
    lower: beyondGrid && age !== null ? `beyond ${hours(age)}` : hours(age),
    upper: "",
    values: [estimate, age, null],
  };
}
