import { formatAge, formatDate, type RowRef, type WhatFailsResult } from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { SerialLink } from "../parts/Link.tsx";

interface ToolEventsProps {
  readonly result: WhatFailsResult;
  readonly onRows: (title: string, row: RowRef) => void;
}

/** What struck a tool without naming an item: counted for the tool, for no mode. */
export function ToolEvents({ result, onRows }: ToolEventsProps) {
  if (result.toolEvents.length === 0) return null;
  const runRef = (run: string): RowRef => ({ table: "runs", key: JSON.stringify([run]) });
  return (
    <DataTable
      caption="Tools lost or failed with no item named"
      fill
      rows={result.toolEvents}
      keyOf={(event) => `${event.serial} ${event.run} ${event.event}`}
      columns={[
        { title: "Serial", show: (event) => <SerialLink serial={event.serial} />, value: (event) => event.serial },
        { title: "On", show: (event) => formatDate(event.on), value: (event) => event.on },
        { title: "What", show: (event) => event.event, value: (event) => event.event },
        { title: "Tool hours", numeric: true, show: (event) => formatAge(event.age) },
        {
          title: "Row",
          show: (event) => (
            <button
              type="button"
              class="plain"
              onClick={() => onRows(`${event.serial}, ${event.event}, ${formatDate(event.on)}`, runRef(event.run))}
            >
              Show row<span class="unseen"> of run {event.run}</span>
            </button>
          ),
        },
      ]}
    />
  );
}
