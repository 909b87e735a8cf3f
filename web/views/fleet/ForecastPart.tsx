import { type FleetResult, formatConfidence, formatDate, formatNumber, sayForecast } from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { LookBack } from "./LookBack.tsx";
import { ranged } from "./ranged.ts";

/** A year ahead and what must be on the shelf; how the same forecast would have done a year ago. */
export function ForecastPart({ result }: { readonly result: FleetResult }) {
  const { forecast } = result;
  if (forecast === null) return <p class="muted">{sayForecast(result)}</p>;
  return (
    <div class="stack">
      <p>{sayForecast(result)}</p>
      <DataTable
        caption={`On the shelf, for ${formatConfidence(forecast.service)} service over the lead time`}
        fill
        file="fleet-kits.csv"
        rows={forecast.kits}
        keyOf={({ kit, toolType }) => `${toolType} ${kit}`}
        columns={[
          { title: "Kit", show: ({ kit }) => kit, value: ({ kit }) => kit },
          {
            title: "In the year",
            numeric: true,
            show: ({ perYear }) => ranged(perYear),
            value: ({ perYear }) => perYear.mean,
          },
          {
            title: "Lead time",
            unit: "d",
            numeric: true,
            show: ({ leadTimeD }) => (leadTimeD === null ? "a month, assumed" : formatNumber(leadTimeD)),
            value: ({ leadTimeD }) => leadTimeD,
          },
          {
            title: "Enough",
            numeric: true,
            show: ({ enough }) => formatNumber(enough),
            value: ({ enough }) => enough,
          },
          {
            title: "On hand",
            numeric: true,
            show: ({ onHand }) => (onHand === null ? "not counted" : formatNumber(onHand)),
            value: ({ onHand }) => onHand,
          },
          {
            title: "To order",
            numeric: true,
            show: ({ toOrder }) => (toOrder === null ? "not known" : <strong>{formatNumber(toOrder)}</strong>),
            value: ({ toOrder }) => toOrder,
          },
          {
            title: "Short by then",
            unit: "%",
            numeric: true,
            show: ({ shortChance }) => (shortChance === null ? "not known" : formatNumber(100 * shortChance)),
            value: ({ shortChance }) => shortChance,
          },
        ]}
      />
      <DataTable
        caption="Month by month"
        fill
        file="fleet-forecast.csv"
        rows={forecast.months}
        keyOf={({ from }) => from}
        columns={[
          { title: "From", show: ({ from }) => formatDate(from), value: ({ from }) => from },
          {
            title: "Jobs stopped",
            numeric: true,
            show: ({ failures }) => ranged(failures),
            value: ({ failures }) => failures.mean,
          },
          {
            title: "Redresses",
            numeric: true,
            show: ({ redresses }) => ranged(redresses),
            value: ({ redresses }) => redresses.mean,
          },
        ]}
      />
      <LookBack result={result} />
      <p class="muted small">
        {formatNumber(forecast.method.futures)} futures, each under laws that the records allow: present ages, coming
        jobs first, then each tool's hours of the last year, redressed as the records show. Ranges hold the count with{" "}
        {formatConfidence(result.definition.confidence)}.
      </p>
    </div>
  );
}
