/** Which teardown a finding at the table belongs to, as the shop would most likely mean it. Pure. */
import type { HistoryEvent, Row, ToolHistoryResult } from "../../analysis/index.ts";

export interface TeardownAtHand {
  readonly teardown: Row<"teardowns">;
  /** Null for one that is not written down yet. */
  readonly known: Row<"teardowns"> | null;
  readonly findings: readonly Row<"findings">[];
}

/**
 * The teardown that followed the last run, where one is written down; else a new one of this day: stripped, and done for
 * the reason for which the tool was pulled.
 *
 * @param today  YYYY-MM-DD by the clock of the person who writes.
 */
export function teardownAtHand(result: ToolHistoryResult, today: string): TeardownAtHand {
  const { events } = result;
  const look = events[lastOf(events, "teardown")]?.event ?? null;
  if (look?.kind === "teardown" && lastOf(events, "teardown") > lastOf(events, "run"))
    return { teardown: look.teardown, known: look.teardown, findings: look.findings };
  return { teardown: newTeardown(result, today), known: null, findings: [] };
}

/** A teardown of this day, for the reason the last run was pulled. */
export function newTeardown({ tool: { serial }, events }: ToolHistoryResult, today: string): Row<"teardowns"> {
  const taken = new Set(events.flatMap(({ event }) => (event.kind === "teardown" ? [event.teardown.teardown] : [])));
  const run = events[lastOf(events, "run")]?.event ?? null;
  return {
    teardown: freeName(`${serial} ${today}`, taken),
    serial,
    done_on: today,
    why: whyOf(run?.kind === "run" ? run.run : null),
    scope: [],
    kind: "stripped",
  };
}

const whyOf = (run: Row<"runs"> | null): Row<"teardowns">["why"] => {
  if (run === null || run.pulled_because === "not known") return "not known";
  return run.pulled_because === "planned" || run.pulled_because === "tool failure" ? run.pulled_because : "other";
};

export function freeName(name: string, taken: ReadonlySet<string>): string {
  if (!taken.has(name)) return name;
  for (let count = 2; ; count += 1) if (!taken.has(`${name} ${count}`)) return `${name} ${count}`;
}

/** Place of the last event of a kind; events come in the order in which they happened. -1 where there is none. */
const lastOf = (events: readonly HistoryEvent[], kind: HistoryEvent["event"]["kind"]): number =>
  events.reduce((last, { event }, index) => (event.kind === kind ? index : last), -1);

/** A day as the records write it, by the clock of whoever looks at the page. */
export const dayOf = (now: Date): string =>
  [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
