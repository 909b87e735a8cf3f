import { useEffect, useState } from "preact/hooks";
import { countOf, formatDate, type RowRef, type ToolHistoryResult } from "../../../analysis/index.ts";
import { type EventFilter, eventFilters, failedLooksOf, filtered, groupByRedress } from "../../state/eventGroups.ts";
import { SelectField } from "../parts/SelectField.tsx";
import { RedressGroup } from "./RedressGroup.tsx";

interface EventsListProps {
  readonly result: ToolHistoryResult;
  readonly onRows: (title: string, rows: readonly RowRef[]) => void;
}

/** What happened, folded by redress; filtered by kind and item, the latest first unless asked otherwise. */
export function EventsList({ result, onRows }: EventsListProps) {
  const [filter, setFilter] = useState<EventFilter>("everything");
  const [item, setItem] = useState<string | null>(null);
  const [latestFirst, setLatestFirst] = useState(true);
  const { serial } = result.tool;
  useEffect(() => {
    setFilter("everything");
    setItem(null);
  }, [serial]);
  const failedLooks = failedLooksOf(result.lives);
  const groups = filtered(groupByRedress(result.events, failedLooks), filter, item, failedLooks);
  const ordered = latestFirst ? [...groups].reverse() : groups;
  const narrowed = filter !== "everything" || item !== null;
  const shown = groups.reduce((sum, group) => sum + group.events.length, 0);
  return (
    <div>
      <div class="event-controls">
        <SelectField
          label="Show"
          value={filter}
          options={eventFilters}
          onPick={(picked) => setFilter(eventFilters.find((known) => known === picked) ?? "everything")}
        />
        <SelectField
          label="About"
          all="every item"
          value={item}
          options={result.items.map((row) => row.item)}
          onPick={setItem}
        />
        <button type="button" onClick={() => setLatestFirst(!latestFirst)}>
          {latestFirst ? "Earliest first" : "Latest first"}
        </button>
        <p class="muted small" aria-live="polite">
          {narrowed ? `${shown} of ${countOf(result.events.length, "event")}` : countOf(shown, "event")}
          {narrowed
            ? null
            : `, ${formatDate(result.events[0]?.on ?? null)} to ${formatDate(result.events.at(-1)?.on ?? null)}`}
        </p>
      </div>
      {ordered.length === 0 ? <p>Nothing of this kind is written down for {serial}.</p> : null}
      <ol class="redress-groups">
        {ordered.map((group, index) => (
          <RedressGroup
            key={`${serial} ${filter} ${item} ${group.events[0]?.row.key}`}
            group={group}
            open={narrowed || index === 0}
            latestFirst={latestFirst}
            onRows={onRows}
          />
        ))}
      </ol>
    </div>
  );
}
