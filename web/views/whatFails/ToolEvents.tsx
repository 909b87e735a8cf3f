import { useState } from "preact/hooks";
import { formatAge, formatDate, type RowRef, type WhatFailsResult } from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { SerialLink } from "../parts/Link.tsx";

interface ToolEventsProps {
  readonly result: WhatFailsResult;
  readonly onRows: (title: string, row: RowRef) => void;
}

type ToolEvent = WhatFailsResult["toolEvents"][number];

const words: Readonly<Record<ToolEvent["event"], string>> = {
  "lost in hole": "lost in hole",
  "tool failure, cause masked": "failed, no item named",
};
const atFirst = 8;

/** What struck a tool without naming an item: counted for the tool, for no mode. Latest first. */
export function ToolEvents({ result, onRows }: ToolEventsProps) {
  const [all, setAll] = useState(false);
  if (result.toolEvents.length === 0) return null;
  const latestFirst = [...result.toolEvents].sort((a, b) => (a.on < b.on ? 1 : -1));
  const runRef = (run: string): RowRef => ({ table: "runs", key: JSON.stringify([run]) });
  return (
    <div>
      <DataTable
        caption={`Tools lost or failed with no item named (${latestFirst.length})`}
        fill
        rows={all ? latestFirst : latestFirst.slice(0, atFirst)}
        keyOf={(event) => `${event.serial} ${event.run} ${event.event}`}
        columns={[
          { title: "Serial", show: (event) => <SerialLink serial={event.serial} /> },
          { title: "What", show: (event) => `${words[event.event]}, ${formatDate(event.on)}` },
          { title: "Tool hours", numeric: true, show: (event) => formatAge(event.age) },
          {
            title: "Row",
            show: (event) => (
              <button
                type="button"
                class="plain"
                onClick={() =>
                  onRows(`${event.serial}, ${words[event.event]}, ${formatDate(event.on)}`, runRef(event.run))
                }
              >
                Show<span class="unseen"> row of run {event.run}</span>
              </button>
            ),
          },
        ]}
      />
      {latestFirst.length > atFirst ? (
        <button type="button" class="plain small" onClick={() => setAll(!all)}>
          {all ? `Only the latest ${atFirst}` : `All ${latestFirst.length}`}
        </button>
      ) : null}
    </div>
  );
}
