import {
  formatAge,
  formatDate,
  type HistoryEvent,
  keyOf,
  type RowRef,
  sayEvent,
  sayEventName,
  type ToolHistoryResult,
} from "../../../analysis/index.ts";

interface EventsListProps {
  readonly result: ToolHistoryResult;
  readonly onRows: (title: string, rows: readonly RowRef[]) => void;
}

/** What happened, in order, with findings in words. */
export function EventsList({ result, onRows }: EventsListProps) {
  const title = (event: HistoryEvent) => `${sayEventName(event)}, ${formatDate(event.on)}`;
  return (
    <ol class="events">
      {result.events.map((event) => (
        <li key={`${event.row.table} ${event.row.key}`}>
          <p class="event-date">{formatDate(event.on)}</p>
          <p class="event-hours">
            <span class="unseen">at tool hours </span>
            {formatAge(event.toolHours)}
          </p>
          <h3>{sayEventName(event)}</h3>
          <ul class="event-words">
            {sayEvent(event).map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
          <p>
            <button type="button" class="plain" onClick={() => onRows(title(event), rowsOf(event))}>
              Show rows<span class="unseen"> of {title(event)}</span>
            </button>
          </p>
        </li>
      ))}
    </ol>
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
