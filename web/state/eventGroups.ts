/** The story of a tool cut at its redresses, and what of it a reader wants to see. Pure. */
import type { HistoryEvent, Life } from "../../analysis/index.ts";

/** A redress with the runs and teardowns that followed it, in order. */
export interface EventGroup {
  /** Null for what happened before the first redress in the records. */
  readonly redress: HistoryEvent | null;
  readonly events: readonly HistoryEvent[];
  readonly runs: number;
  /** Hours written down of those runs, and runs without. */
  readonly hours: number;
  readonly runsWithoutHours: number;
  /** What was found failed, "main seal: extrusion", each once. */
  readonly failed: readonly string[];
  /** What else was found: below the severity that counts as failed, or on an item that had failed before. */
  readonly seen: readonly string[];
}

export const eventFilters = ["everything", "redresses", "runs", "teardowns", "failures found"] as const;
export type EventFilter = (typeof eventFilters)[number];

/** Findings at which a life ended failed: the result's own verdict, not a severity read off a row. */
export type FailedLooks = ReadonlySet<string>;

export const failedLooksOf = (lives: readonly Life[]): FailedLooks =>
  new Set(
    lives.flatMap(({ item, mode, looks }) =>
      looks.filter(({ found }) => found === "failed").map(({ row }) => `${row.key} ${item}: ${mode}`),
    ),
  );

export function groupByRedress(events: readonly HistoryEvent[], failedLooks: FailedLooks): readonly EventGroup[] {
  const groups: HistoryEvent[][] = [];
  for (const event of events) {
    const last = groups[groups.length - 1];
    if (last === undefined || event.event.kind === "redress") groups.push([event]);
    else last.push(event);
  }
  return groups.map((group) => summed(group, failedLooks));
}

/** Groups with only the events that pass; groups with none of them fall away. */
export function filtered(
  groups: readonly EventGroup[],
  filter: EventFilter,
  item: string | null,
  failedLooks: FailedLooks,
): readonly EventGroup[] {
  const passes = (event: HistoryEvent) => isKind(event, filter, failedLooks) && (item === null || names(event, item));
  return groups
    .map((group) => ({ ...group, events: group.events.filter(passes) }))
    .filter((group) => group.events.length > 0);
}

function summed(events: readonly HistoryEvent[], failedLooks: FailedLooks): EventGroup {
  const [first] = events;
  const runs = events.flatMap(({ event }) => (event.kind === "run" ? [event.run] : []));
  const hours = runs.map((run) => run.hours ?? null);
  return {
    redress: first?.event.kind === "redress" ? first : null,
    events,
    runs: runs.length,
    hours: hours.reduce((sum: number, each) => sum + (each ?? 0), 0),
    runsWithoutHours: hours.filter((each) => each === null).length,
    failed: [...new Set(events.flatMap((event) => foundAt(event, failedLooks, true)))],
    seen: [...new Set(events.flatMap((event) => foundAt(event, failedLooks, false)))],
  };
}

function foundAt({ event, row }: HistoryEvent, failedLooks: FailedLooks, failed: boolean): readonly string[] {
  if (event.kind !== "teardown") return [];
  return event.findings
    .filter((finding) => finding.condition !== "sound")
    .map((finding) => `${finding.item}: ${finding.condition}`)
    .filter((found) => failedLooks.has(`${row.key} ${found}`) === failed);
}

function isKind(event: HistoryEvent, filter: EventFilter, failedLooks: FailedLooks): boolean {
  const { kind } = event.event;
  if (filter === "everything") return true;
  if (filter === "failures found")
    return (
      foundAt(event, failedLooks, true).length > 0 ||
      (event.event.kind === "run" && event.event.run.pulled_because === "tool failure")
    );
  return `${kind === "redress" ? "redresse" : kind}s` === filter;
}

/** Whether an event says anything of an item beyond that it was there. */
function names({ event }: HistoryEvent, item: string): boolean {
  if (event.kind === "run") return event.run.item_seen === item;
  if (event.kind === "teardown") return event.findings.some((finding) => finding.item === item);
  return (
    event.fitted.some((fitted) => fitted.item === item && fitted.renewed) ||
    event.joints.some((joint) => joint.joint === item)
  );
}
