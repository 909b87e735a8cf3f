import { keyOf, type Records } from "../records/descriptor.ts";
import { lowOf, plus, span, toAge } from "./age.ts";
import { dayOf } from "./calendar.ts";
import { type ClockRuns, compare } from "./clockRuns.ts";
import type { LivesNotice, ToolEvent } from "./types.ts";

/** A tool that has been out this long without a run report is said to be silent. Common practice, no source. */
const SILENT_DAYS = 30;

/** Losses, and tool failures with no item named: events of the tool, at its own hours. */
export function toolEvents(
  records: Records,
  clock: ClockRuns,
  cutoffDay: number,
): { events: ToolEvent[]; notices: LivesNotice[] } {
  const events: ToolEvent[] = [];
  const notices: LivesNotice[] = [];
  const toolOf = new Map((records.tools ?? []).map((tool) => [tool.serial, tool]));
  for (const serial of new Set([...clock.bySerial.keys(), ...clock.stillOut.keys()])) {
    const runs = clock.bySerial.get(serial) ?? [];
    let age = span(toolOf.get(serial)?.hours_at_entry ?? 0);
    for (const { run, row, hours } of [...runs].sort((a, b) => a.inDay - b.inDay || a.outDay - b.outDay)) {
      age = plus(age, hours);
      const on = run.in_on ?? run.out_on;
      if (run.pulled_because === "lost in hole") {
        events.push({ serial, event: "lost in hole", on, age: toAge(age), run: run.run });
        notices.push({
          code: "lost-cause-unknown",
          facts: { serial, run: run.run, hours: lowOf(toAge(age)) },
          rows: [row],
        });
      } else if (run.pulled_because === "tool failure" && run.item_seen == null) {
        events.push({ serial, event: "tool failure, cause masked", on, age: toAge(age), run: run.run });
        notices.push({ code: "tool-failure-no-item", facts: { serial, run: run.run }, rows: [row] });
      }
    }
    // A lost tool often has no return date: the run that says so, or the status of a tool whose last run is still out.
    const tool = toolOf.get(serial);
    const stillOut = clock.stillOut.get(serial)?.at(-1);
    const lost = stillOut?.pulled_because === "lost in hole" || tool?.status === "lost in hole";
    const on = tool?.status_on ?? stillOut?.out_on;
    if (stillOut && lost && on !== undefined && dayOf(on) <= cutoffDay) {
      events.push({ serial, event: "lost in hole", on, age: toAge(age), run: stillOut.run });
    }
  }
  return { events: events.sort((a, b) => compare(a.on, b.on) || compare(a.serial, b.serial)), notices };
}

/** Tools that have been out for long without a run report. */
export function silentTools(records: Records, clock: ClockRuns): LivesNotice[] {
  return (records.tools ?? []).flatMap((tool): LivesNotice[] => {
    if (tool.status !== "out" || tool.status_on == null || clock.stillOut.has(tool.serial)) return [];
    const last = clock.bySerial.get(tool.serial)?.at(-1);
    const since = last?.run.in_on;
    if (!last || since == null || dayOf(tool.status_on) - dayOf(since) <= SILENT_DAYS) return [];
    return [
      {
        code: "out-but-silent",
        facts: { serial: tool.serial, since, status_on: tool.status_on },
        rows: [{ table: "tools", key: keyOf("tools", tool) }, last.row],
      },
    ];
  });
}
