import {
  countOf,
  formatAge,
  formatDate,
  formatHours,
  type HistoryEvent,
  keyOf,
  type RowRef,
  sayEvent,
  sayEventName,
} from "../../../analysis/index.ts";
import type { EventGroup } from "../../state/eventGroups.ts";
import { Link } from "../parts/Link.tsx";

interface RedressGroupProps {
  readonly group: EventGroup;
  readonly open: boolean;
  readonly latestFirst: boolean;
  readonly onRows: (title: string, rows: readonly RowRef[]) => void;
}

/** A redress in one line: why, how long it ran after it and what was found; unfolded, every event of it. */
export function RedressGroup({ group, open, latestFirst, onRows }: RedressGroupProps) {
  const events = latestFirst ? [...group.events].reverse() : group.events;
  return (
    <li>
      <details class="redress-group" open={open}>
        <summary class="redress-summary">
          <Heading group={group} />
        </summary>
        <ol class="events">
          {events.map((event) => (
            <EventLine key={`${event.row.table} ${event.row.key}`} event={event} onRows={onRows} />
          ))}
        </ol>
      </details>
    </li>
  );
}

function Heading({
  group: { redress, events, runs, hours, runsWithoutHours, failed, seen },
}: Pick<RedressGroupProps, "group">) {
  const on = redress?.on ?? events[0]?.on ?? null;
  const ran = runs === 0 ? "not run yet" : `${countOf(runs, "run")}, ${formatHours(hours)}`;
  const unwritten = runsWithoutHours === 0 ? "" : `, ${runsWithoutHours} without hours`;
  return (
    <span class="redress-line">
      <span class="event-date">{formatDate(on)}</span>
      <strong>{redress === null ? "Before the first redress written down" : sayEventName(redress)}</strong>
      <span class="muted">{redress?.event.kind === "redress" ? redress.event.redress.reason : ""}</span>
      <span>
        {ran}
        {unwritten}
      </span>
      <span>
        {failed.length === 0 ? null : <span class="found">found failed: {failed.join("; ")}</span>}
        {failed.length === 0 || seen.length === 0 ? null : ". "}
        {seen.length === 0 ? null : <span class="muted">seen: {seen.join("; ")}</span>}
        {failed.length + seen.length > 0 ? null : <span class="muted">nothing found</span>}
      </span>
    </span>
  );
}

function EventLine({ event, onRows }: { readonly event: HistoryEvent; readonly onRows: RedressGroupProps["onRows"] }) {
  const title = `${sayEventName(event)}, ${formatDate(event.on)}`;
  return (
    <li>
      <p class="event-date">{formatDate(event.on)}</p>
      <p class="event-hours">
        <span class="unseen">at tool hours </span>
        {formatAge(event.toolHours)}
      </p>
      <h3>{sayEventName(event)}</h3>
      <p class="event-words">{sayEvent(event).join("; ")}</p>
      <p>
        <button type="button" class="plain" onClick={() => onRows(title, rowsOf(event))}>
          Show rows<span class="unseen"> of {title}</span>
        </button>{" "}
        <Link to={{ form: `fix ${event.row.table}:${event.row.key}` }}>
          Fix<span class="unseen"> {title}</span>
        </Link>
      </p>
    </li>
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
