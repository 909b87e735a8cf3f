/** The forms' routes as far as the page needs them: rows compared with the story that the mock tells, nothing kept. */
import {
  keyOf,
  type Row,
  type RowHistoryReply,
  type SetupReply,
  type TableName,
  tableDescriptors,
} from "../../../../analysis/index.ts";
import { toolHistoryFixture } from "../../../support/chartFixtures.ts";
import { mockBatch } from "./mockData.ts";

type Values = Readonly<Record<string, unknown>>;
interface Entry {
  readonly table: TableName;
  readonly values: Values;
}

const modes: readonly Row<"modes">[] = [
  { item: "main seal", mode: "extrusion", announces: "hidden", threshold: 3, restored_by: "renewed", leads_to: "leak" },
  { item: "main seal", mode: "leak", announces: "evident", threshold: 3, restored_by: "renewed", words: ["weeping"] },
  { item: "joint", mode: "back-off", announces: "hidden", threshold: 3, restored_by: "made up" },
];

const items: readonly Row<"tool_items">[] = [
  { tool_type: "axial damper", item: "main seal", kind: "seal", kit: "K-AD-1" },
];
const stock: readonly Row<"stock">[] = [{ kit: "K-AD-1", on_hand: 14, lead_time_d: 35, counted_on: "2026-06-30" }];
const costs: readonly Row<"costs">[] = [
  { what: "planned redress", tool_type: "axial damper", dated_on: "2025-07-01", amount: 6600, currency: "USD" },
];
const kept: { readonly [T in TableName]?: readonly Row<T>[] } = {
  modes,
  tool_items: items,
  stock,
  costs,
  planned_runs: [],
  decisions: [],
};

/** Stored rows by table and key. */
function stored(): ReadonlyMap<string, Values> {
  const rows = new Map<string, Values>();
  const add = <T extends TableName>(table: T, row: Row<T>) => rows.set(`${table} ${keyOf(table, row)}`, row as Values);
  for (const { event } of toolHistoryFixture().events) {
    if (event.kind === "run") add("runs", event.run);
    if (event.kind === "teardown") {
      add("teardowns", event.teardown);
      for (const finding of event.findings) add("findings", finding);
    }
    if (event.kind === "redress") {
      add("redresses", event.redress);
      for (const joint of event.joints) add("joints", joint);
      for (const fitted of event.fitted) add("fitted_items", fitted);
    }
  }
  for (const mode of modes) add("modes", mode);
  for (const kit of stock) add("stock", kit);
  return rows;
}

const mockHistory: RowHistoryReply = {
  row: { table: "runs", key: '["RUN-4101"]' },
  field: null,
  steps: [
    {
      field: null,
      row: "brought in",
      was: null,
      becomes: null,
      by: { kind: "drop", batch: 1, origin: { file: "run_log.csv", sheet: null, line: 12 } },
      who: "AB",
      when: "2026-01-02T08:00:00.000Z",
      why: null,
    },
    {
      field: "hours",
      was: 62.5,
      becomes: 70,
      by: { kind: "drop", batch: 3, origin: { file: "form CD, runs.csv", sheet: null, line: 2 } },
      who: "CD",
      when: "2026-01-03T08:00:00.000Z",
      why: "read from the log",
    },
    {
      field: "hours",
      was: 70,
      becomes: 71,
      by: { kind: "answer", verdict: "correct", rule: null, state: "stale" },
      who: "EF",
      when: "2026-01-04T08:00:00.000Z",
      why: "gauge",
    },
  ],
};

/** One word changes and one mapping is new, until it is stored. */
const mockSetup = (body: unknown): SetupReply => ({
  words: [{ vocabulary: "conditions", phrase: "flat", what: "changed", was: "wear", becomes: "compression set" }],
  mappings: [{ fingerprint: "run|serial", name: "Run log", what: "new" }],
  rows: [],
  problems: [],
  ready: true,
  stored: typeof body === "object" && body !== null && "who" in body ? { ...mockBatch, batch: 9 } : null,
});

const entriesOf = (body: unknown): readonly Entry[] =>
  typeof body === "object" && body !== null && "rows" in body ? (body.rows as readonly Entry[]) : [];

export function mockForms(path: string, body: unknown): { status?: number; body: unknown } | null {
  const table = Object.entries(kept).find(([name]) => path === `/api/forms/${name}`);
  if (table !== undefined) return { body: table[1] };
  if (path === "/api/setup") return { body: mockSetup(body) };
  if (path === "/api/forms") return { status: 201, body: { ...mockBatch, files: [] } };
  if (path === "/api/rows/history") return { body: mockHistory };
  if (path !== "/api/forms/preview") return null;
  const before = stored();
  const rows = entriesOf(body).map(({ table, values }) => {
    const key = JSON.stringify(tableDescriptors[table].primaryKey.map((field) => values[field] ?? null));
    const known = before.get(`${table} ${key}`);
    const cells = Object.entries(values)
      .filter(([field, value]) => JSON.stringify(known?.[field] ?? null) !== JSON.stringify(value ?? null))
      .map(([field, value]) => ({ field, was: known?.[field] ?? null, becomes: value }));
    const what = known === undefined ? "new" : cells.length > 0 ? "changed" : "unchanged";
    return { row: { table, key }, what, cells: what === "changed" ? cells : [] };
  });
  return { body: { rows, problems: [], ready: rows.some(({ what }) => what !== "unchanged") } };
}
