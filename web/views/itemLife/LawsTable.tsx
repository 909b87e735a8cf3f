import { formatHours, formatNumber, type ItemLifeResult, sayLaw, sayLawFit, sayLaws } from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";

/** The same lives under other laws: would one of them say otherwise? */
export function LawsTable({ result }: { readonly result: ItemLifeResult }) {
  const { laws, readings } = result;
  if (laws.length < 2) return null;
  return (
    <>
      <DataTable
        caption="Would another law say otherwise?"
        rows={laws}
        keyOf={(row) => row.law}
        columns={[
          { title: "Law", show: (row) => sayLaw[row.law], value: (row) => row.law },
          { title: "Fit", show: sayLawFit, value: (row) => row.worseBy },
          {
            title: "One in ten has failed by",
            numeric: true,
            show: (row) => formatHours(row.b10),
            value: (row) => row.b10,
          },
          {
            title: "Half have failed by",
            numeric: true,
            show: (row) => formatHours(row.median),
            value: (row) => row.median,
          },
          {
            title: `Still good at ${formatHours(readings.statedAge)}`,
            numeric: true,
            show: (row) => formatNumber(row.reliability),
            value: (row) => row.reliability,
          },
        ]}
      />
      <p class="muted small">{sayLaws(laws)}</p>
    </>
  );
}
