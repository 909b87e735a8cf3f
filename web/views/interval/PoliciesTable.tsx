import {
  formatHours,
  formatNumber,
  type PolicyRow,
  type RedressIntervalResult,
  type SimulatedNumber,
} from "../../../analysis/index.ts";
import { fileName } from "../../state/saveFile.ts";
import { DataTable } from "../parts/DataTable.tsx";

/** Ways to redress side by side, run by run on the shop's own run lengths, today's practice first. */
export function PoliciesTable({ result }: { readonly result: RedressIntervalResult }) {
  if (result.policies.length === 0)
    return <p class="muted small">Policies are compared once runs and redresses are on record.</p>;
  const money = result.currency ?? "planned redresses";
  return (
    <div>
      <DataTable
        caption="Ways to redress, side by side, per 1,000 h"
        fill
        file={fileName(["interval policies", result.item ?? result.toolType], "csv")}
        rows={result.policies}
        keyOf={({ policy }) => policy}
        columns={[
          { title: "Way", show: nameOf, value: nameOf },
          {
            title: "Cost",
            unit: money,
            numeric: true,
            show: ({ cost }) => said(cost),
            value: ({ cost }) => cost.value,
          },
          {
            title: "Against today",
            unit: money,
            numeric: true,
            show: ({ policy, costAgainstFirst }) => (policy === "today's practice" ? "–" : said(costAgainstFirst)),
            value: ({ costAgainstFirst }) => costAgainstFirst.value,
          },
          {
            title: "Jobs stopped",
            numeric: true,
            show: ({ failures }) => said(failures),
            value: ({ failures }) => failures.value,
          },
          {
            title: "Planned redresses",
            numeric: true,
            show: ({ redresses }) => said(redresses),
            value: ({ redresses }) => redresses.value,
          },
          { title: "Kits", numeric: true, show: ({ kits }) => said(kits), value: ({ kits }) => kits.value },
        ]}
      />
      <p class="muted small">
        Simulated by the fitted laws on the shop's run lengths, redresses only between runs: an interval or limit is
        kept by redressing before the run that would pass it, an item's own interval at the first return past it. ± is
        twice the error of having simulated only so much. Only the estimate is played, not what the records leave open.
        Opening and closing the tool is taken as half of a planned redress (assumed); a kit is a full set of the items.
      </p>
    </div>
  );
}

const said = ({ value, error }: SimulatedNumber): string => `${formatNumber(value)} ± ${formatNumber(2 * error, 2)}`;

function nameOf({ policy, intervalH, itemIntervals }: PolicyRow): string {
  if (intervalH !== null) return `${policy}, ${formatHours(Math.round(intervalH))}`;
  if (itemIntervals.length === 0) return policy;
  const each = itemIntervals.map(
    (row) => `${row.item} ${row.intervalH === null ? "none" : formatHours(Math.round(row.intervalH))}`,
  );
  return `${policy}: ${each.join(", ")}`;
}
