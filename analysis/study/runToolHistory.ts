import { AnalysisError } from "../errors.ts";
import { plus, type Span, span, toAge } from "../lives/age.ts";
import { compareNumbered, hoursOnClock, usualHoursKind } from "../lives/clockRuns.ts";
import { keyOf, type Row } from "../records/descriptor.ts";
import { presentAges } from "./presentAges.ts";
import { provenance, type ShopData, type StudyContext } from "./shopData.ts";
import type { HistoryEvent, Notice, StudyDefinition, ToolHistoryResult } from "./types.ts";

/** On one date: run in, teardown, redress, run out. A run is told where it came in. */
const order = { run: 0, teardown: 1, redress: 2 } as const;

/**
 * One serial's whole story: every redress, run and look in order, its lives, and the present age of each item and mode.
 * Errors  "tool-not-found" for a serial that the records do not know.
 */
export function runToolHistory(definition: StudyDefinition, data: ShopData, context: StudyContext): ToolHistoryResult {
  const serial = definition.scope.serial ?? "";
  const { records, derived } = data;
  const tool = (records.tools ?? []).find((row) => row.serial === serial);
  if (!tool) throw new AnalysisError("tool-not-found", { serial });
  const items = data.items.filter((row) => row.tool_type === tool.tool_type);
  const lives = derived.lives.filter(
    (life) =>
      life.serial === serial ||
      life.rows.some(({ table, key }) => table === "runs" && data.runOf(key)?.serial === serial),
  );
  const notUsed = new Set(
    derived.notices.filter(({ code }) => code === "run-duplicate").flatMap(({ rows }) => rows.map(({ key }) => key)),
  );
  const events = withToolHours(
    eventsOf(data, serial),
    tool.hours_at_entry ?? 0,
    notUsed,
    derived.cutoff,
    definition.hoursKind ?? usualHoursKind(records.runs ?? []),
  );
  const notices = derived.notices
    .filter(({ facts }) => facts.serial === serial)
    .map(({ code, facts, rows }): Notice => ({ code, facts, rows }));

  return {
    kind: "tool history",
    provenance: provenance(data, definition, context),
    tool,
    items,
    events,
    lives,
    ages: presentAges(data, serial, items).map(({ cleanAt: _cleanAt, runs: _runs, ...age }) => age),
    runs: events.filter(({ event }) => event.kind === "run" && event.counted).length,
    hours: events.at(-1)?.toolHours ?? tool.hours_at_entry ?? 0,
    failures: new Set(lives.filter(({ kind }) => kind !== "right").map(({ item, since }) => `${item}\u0000${since}`))
      .size,
    toolEvents: derived.toolEvents.filter((event) => event.serial === serial),
    notices: context.sample ? [...notices, { code: "invented-data", facts: {} }] : notices,
  };
}

function eventsOf({ records }: ShopData, serial: string): Omit<HistoryEvent, "toolHours">[] {
  const redresses = (records.redresses ?? []).filter((row) => row.serial === serial);
  const teardowns = (records.teardowns ?? []).filter((row) => row.serial === serial);
  const events: Omit<HistoryEvent, "toolHours">[] = [
    ...redresses.map((redress) => ({
      on: redress.done_on,
      order: order.redress,
      row: { table: "redresses" as const, key: keyOf("redresses", redress) },
      event: {
        kind: "redress" as const,
        redress,
        joints: (records.joints ?? []).filter((row) => row.redress === redress.redress),
        fitted: (records.fitted_items ?? []).filter((row) => row.redress === redress.redress),
      },
    })),
    ...teardowns.map((teardown) => ({
      on: teardown.done_on,
      order: order.teardown,
      row: { table: "teardowns" as const, key: keyOf("teardowns", teardown) },
      event: {
        kind: "teardown" as const,
        teardown,
        findings: (records.findings ?? []).filter((row) => row.teardown === teardown.teardown),
      },
    })),
    ...(records.runs ?? [])
      .filter((row) => row.serial === serial)
      .map((run) => ({
        on: run.in_on ?? run.out_on,
        order: order.run,
        row: { table: "runs" as const, key: keyOf("runs", run) },
        event: { kind: "run" as const, run, counted: true },
      })),
  ];
  return events.sort((a, b) =>
    a.on < b.on ? -1 : a.on > b.on ? 1 : a.order - b.order || compareNumbered(a.row.key, b.row.key),
  );
}

function withToolHours(
  events: readonly Omit<HistoryEvent, "toolHours">[],
  atEntry: number,
  notUsed: ReadonlySet<string>,
  cutoff: string,
  kind: Row<"runs">["hours_kind"] | null,
): HistoryEvent[] {
  let total: Span = span(atEntry);
  return events.map((entry) => {
    const { event } = entry;
    if (event.kind !== "run") return { ...entry, toolHours: toAge(total) };
    const counted = !notUsed.has(entry.row.key) && event.run.in_on != null && event.run.in_on <= cutoff;
    if (counted) total = plus(total, hoursOnClock(event.run, kind).hours);
    return { ...entry, event: { ...event, counted }, toolHours: toAge(total) };
  });
}
