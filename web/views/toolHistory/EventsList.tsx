import {
  formatAge,
  formatDate,
  type HistoryEvent,
  keyOf,
  type RowRef,
  type ToolHistoryResult,
} from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { sayEvent, sayEventName } from "./sayEvent.ts";

interface EventsListProps {
  readonly result: ToolHistoryResult;
  readonly onRows: (title: string, rows: readonly RowRef[]) => void;
}

/** What happened, in order, with findings in words. */
export function EventsList({ result, onRows }: EventsListProps) {
  const title = (event: HistoryEvent) => `${sayEventName(event)}, ${formatDate(event.on)}`;
  return (
    <DataTable
      caption={`What happened to ${result.tool.serial}`}
      hideCaption
      rows={result.events}
      keyOf={({ row }) => `${row.table} ${row.key}`}
      fill
      columns={[
        { title: "Date", show: ({ on }) => <span class="number">{formatDate(on)}</span> },
        { title: "Tool hours", numeric: true, show: ({ toolHours }) => formatAge(toolHours) },
        { title: "Event", show: (event) => <strong>{sayEventName(event)}</strong> },
        {
          title: "In words",
          show: (event) => (
            <ul>
              {sayEvent(event).map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          ),
        },
        {
          title: "Rows",
          show: (event) => (
            <button type="button" class="plain" onClick={() => onRows(title(event), rowsOf(event))}>
              Show rows<span class="unseen"> of {title(event)}</span>
            </button>
          ),
        },
      ]}
    />
  );
}

/** An event with the rows that belong to it. */
function rowsOf({ row, event }: HistoryEvent): readonly RowRef[] {
  if (event.kind === "redress")
    return [
      row,
      ...event.joints.map((joint): RowRef => ({ table: "joints", key: keyOf("joints", joint) })),
      ...event.fitted.map((item): RowRef => ({ table: "fitted_items", key: keyOf("fitted_items", item) })),
    ];
  if (event.kind === "teardown")
    return [row, ...event.findings.map((finding): RowRef => ({ table: "findings", key: keyOf("findings", finding) }))];
  return [row];
}
