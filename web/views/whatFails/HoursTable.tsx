import { type Age, formatAge, type WhatFailsResult } from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";

interface HoursLine {
  readonly name: string;
  readonly hours: Age;
  readonly runs: number | null;
}

/** All run hours: used, and not used by reason; they add up. */
export function HoursTable({ result }: { readonly result: WhatFailsResult }) {
  const { total, used, unused } = result.hours;
  const rows: HoursLine[] = [
    { name: "All hours run", hours: total, runs: result.runs },
    { name: "used", hours: used, runs: null },
    ...unused.map(({ reason, hours, runs }) => ({ name: `not used: ${reason}`, hours, runs })),
  ];
  return (
    <DataTable
      caption="The hours under it"
      fill
      rows={rows}
      keyOf={(line) => line.name}
      columns={[
        { title: "Hours", show: (line) => line.name, value: (line) => line.name },
        { title: "Run", numeric: true, show: (line) => formatAge(line.hours) },
        {
          title: "Runs",
          numeric: true,
          show: (line) => line.runs?.toLocaleString("en") ?? "",
          value: (line) => line.runs,
        },
      ]}
    />
  );
}
