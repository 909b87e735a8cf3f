import { formatHours, type ItemLifeResult, sayMissingHours } from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";

/** The same fit under other treatments of hours that were not written down; shown only where it matters. */
export function SensitivityTable({ result }: { readonly result: ItemLifeResult }) {
  if (result.sensitivity.length === 0) return null;
  const { b10, median } = result.readings;
  const present = { missingHours: result.definition.missingHours, b10: b10.value, median: median.value };
  return (
    <DataTable
      caption="If the hours not written down were taken otherwise"
      rows={[present, ...result.sensitivity.filter((other) => other.missingHours !== present.missingHours)]}
      keyOf={(row) => row.missingHours}
      columns={[
        {
          title: "Missing hours",
          show: (row) => `${sayMissingHours(row.missingHours)}${row === present ? " (used here)" : ""}`,
          value: (row) => row.missingHours,
        },
        {
          title: "One in ten has failed by",
          numeric: true,
          show: (row) => (row.b10 === null ? "not reached" : formatHours(row.b10)),
          value: (row) => row.b10,
        },
        {
          title: "Half have failed by",
          numeric: true,
          show: (row) => (row.median === null ? "not reached" : formatHours(row.median)),
          value: (row) => row.median,
        },
      ]}
    />
  );
}
