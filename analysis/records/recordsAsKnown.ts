import type { Records } from "./descriptor.ts";

const kept = new WeakMap<Records, Map<string, Records>>();

/**
 * The records as they were known on a date: without runs, redresses, looks, costs and decisions of later dates, without runs
 * reported later, and with runs still out where they came in later. What a tool's status was then is not kept, so it is not
 * known, but for tools lost or scrapped by then. The same object each time for the same records and date.
 */
export function recordsAsKnown(records: Records, on: string): Records {
  const byDate = kept.get(records) ?? new Map<string, Records>();
  kept.set(records, byDate);
  const before = byDate.get(on);
  if (before) return before;
  const redresses = (records.redresses ?? []).filter(({ done_on }) => done_on <= on);
  const teardowns = (records.teardowns ?? []).filter(({ done_on }) => done_on <= on);
  const built = new Set(redresses.map(({ redress }) => redress));
  const looked = new Set(teardowns.map(({ teardown }) => teardown));
  const known: Records = {
    ...records,
    redresses,
    teardowns,
    joints: (records.joints ?? []).filter(({ redress }) => built.has(redress)),
    fitted_items: (records.fitted_items ?? []).filter(({ redress }) => built.has(redress)),
    findings: (records.findings ?? []).filter(({ teardown }) => looked.has(teardown)),
    runs: (records.runs ?? []).flatMap((run) => {
      if (run.out_on > on) return [];
      if (run.in_on == null || (run.in_on <= on && (run.reported_on ?? run.in_on) <= on)) return [run];
      const { serial, out_on, customer, well, rig, crew } = run;
      const open = { run: run.run, serial, out_on, in_on: null, pulled_because: "not known" as const };
      return [{ ...open, customer: customer ?? null, well: well ?? null, rig: rig ?? null, crew: crew ?? null }];
    }),
    tools: (records.tools ?? []).flatMap((tool) => {
      if (tool.entered_on != null && tool.entered_on > on) return [];
      const settled = tool.status_on != null && tool.status_on <= on;
      return settled ? [tool] : [{ ...tool, status: "not known" as const, status_on: null, location: null }];
    }),
    costs: (records.costs ?? []).filter(({ dated_on }) => dated_on <= on),
    decisions: (records.decisions ?? []).filter(({ dated_on }) => dated_on <= on),
    planned_runs: [],
    stock: [],
  };
  byDate.set(on, known);
  return known;
}
