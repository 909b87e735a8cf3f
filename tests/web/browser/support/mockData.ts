/** Replies for the page's tests, all invented: results come from the chart fixtures, the drop is written out here. */
import type {
  DropPreview,
  DropProgress,
  Life,
  Mapping,
  Problem,
  RowRef,
  StateReply,
  StoredBatch,
  StoredRow,
} from "../../../../analysis/index.ts";
import { tableDescriptors } from "../../../../analysis/index.ts";
import { whatFailsFixture } from "../../../support/chartFixtures.ts";

const fleet = whatFailsFixture();

/** A name that would be markup if it were not text. */
export const nameWithMarkup = '<img src=x onerror="document.title=1">';

export function mockState(change: Partial<StateReply> = {}): StateReply {
  const items = new Map<
    string,
    { kind: (typeof fleet.modes)[number]["itemKind"]; position: number | null; modes: string[] }
  >();
  for (const mode of fleet.modes) {
    const known = items.get(mode.item) ?? { kind: mode.itemKind, position: mode.position, modes: [] };
    known.modes.push(mode.mode);
    items.set(mode.item, known);
  }
  return {
    engineVersion: "0.1.0",
    dataHash: "5d0c3f9e21b7",
    rows: {
      tool_items: 10,
      modes: 15,
      compounds: 3,
      tools: 34,
      redresses: 702,
      joints: 2808,
      fitted_items: 4914,
      runs: 3026,
      teardowns: 688,
      findings: 5120,
      planned_runs: 0,
      stock: 0,
      costs: 0,
      decisions: 0,
    },
    batches: 3,
    setAside: 12,
    sample: true,
    openQuestions: [],
    choices: {
      toolTypes: [
        {
          toolType: "axial damper",
          sizesIn: [4.75, 6.5],
          items: [...items].map(([item, { kind, position, modes }]) => ({ item, kind, position, modes })),
        },
        {
          toolType: "shock sub",
          sizesIn: [6.5, 8],
          items: [{ item: "piston seal", kind: "seal", position: 1, modes: ["extrusion", "leak"] }],
        },
      ],
      customers: ["Customer A", "Customer B", nameWithMarkup],
      firstDate: "2023-01-04",
      lastDate: "2026-06-30",
      serials: Array.from({ length: 34 }, (_, index) => ({
        serial: `AD650-${String(index + 1).padStart(3, "0")}`,
        toolType: "axial damper",
        sizeIn: index % 3 === 0 ? 4.75 : 6.5,
        status: index % 5 === 0 ? "out" : "in shop",
        runs: 40 + ((index * 13) % 61),
        failures: (index * 7) % 9,
      })),
    },
    ...change,
  };
}

export function mockRow(ref: RowRef): StoredRow {
  const key: unknown = JSON.parse(ref.key);
  const parts = Array.isArray(key) ? key : [];
  const keys = Object.fromEntries(tableDescriptors[ref.table].primaryKey.map((field, index) => [field, parts[index]]));
  return {
    ...ref,
    values: {
      ...keys,
      serial: "AD650-017",
      out_on: "2025-03-04",
      in_on: "2025-03-12",
      hours: 62.5,
      hours_kind: "circulating",
      customer: nameWithMarkup,
      well: "Well 7",
      max_temperature_C: 121,
      pulled_because: "planned",
    },
    asWritten: {
      "Run no": String(parts[0] ?? ""),
      Tool: "AD650-017",
      "Date out": "04/03/25",
      "Date in": "12/03/25",
      "Circ hrs": "62.5 h",
      Client: nameWithMarkup,
      Well: "Well 7",
      "BHT degF": "250",
      Remarks: "all ok, changed out at TD",
    },
    origin: { file: "runs_2025.csv", sheet: null, line: 214 },
    batch: 2,
  };
}

export const mockLife = (id: string): Life => ({
  id,
  toolType: "axial damper",
  sizeIn: 6.5,
  serial: "AD650-017",
  item: "main seal",
  itemSerial: null,
  mode: "extrusion",
  since: "R-2044",
  sinceOn: "2025-02-20",
  kind: "interval",
  lower: 140,
  upper: 202.5,
  entry: 0,
  rangeBecause: null,
  closedBy: "look",
  endedOn: "2025-03-15",
  informative: false,
  looks: [],
  runs: [],
  rows: [
    { table: "redresses", key: '["R-2044"]' },
    { table: "runs", key: '["RUN-1877"]' },
    { table: "runs", key: '["RUN-1901"]' },
    { table: "teardowns", key: '["TD-0931"]' },
  ],
});

const mapping = (name: string): Mapping => ({
  name,
  version: 1,
  fingerprint: "run no|tool|date out",
  format: {
    encoding: "utf-8",
    delimiter: ";",
    decimal: ",",
    skipLines: 1,
    comment: "#",
    dateOrder: { "Date out": "dmy" },
  },
  tables: [
    {
      table: "runs",
      columns: { run: { from: "Run no" }, serial: { from: "Tool" }, hours: { from: "Circ hrs", unit: "h" } },
    },
  ],
  addRows: [],
});

const problem = (file: string, line: number, part: Partial<Problem>): Problem => ({
  code: "not-a-number",
  severity: "error",
  origin: { file, sheet: null, line },
  column: "Circ hrs",
  value: "about 60",
  facts: {},
  ...part,
});

export function mockDrop(ready: boolean): DropPreview {
  const file = "runs_2026.csv";
  const counts = { lines: 412, new: 371, unchanged: 32, changed: 3, setAside: 6 };
  return {
    id: "d1",
    files: [
      {
        file,
        sheet: null,
        bytes: 40210,
        mapping: mapping("runs"),
        mappingIs: "proposed",
        columns: [
          {
            header: "Run no",
            samples: ["3027", "3028", "3029"],
            becomes: [{ table: "runs", field: "run", unit: null }],
            why: "named so, and every cell differs",
          },
          {
            header: "Tool",
            samples: ["AD650-017", "AD650-003"],
            becomes: [{ table: "runs", field: "serial", unit: null }],
            why: "cells are serials of tools in the records",
          },
          {
            header: "Date out",
            samples: ["04/03/26", "17/03/26"],
            becomes: [{ table: "runs", field: "out_on", unit: null }],
            why: "dates, day first: 17/03/26 can be read in no other way",
          },
          {
            header: "Circ hrs",
            samples: ["62,5", "48", "about 60"],
            becomes: [{ table: "runs", field: "hours", unit: "h" }],
            why: "“hrs” in the name, numbers from 4 to 168",
          },
          {
            header: "BHT degF",
            samples: ["250", "266"],
            becomes: [{ table: "runs", field: "max_temperature_C", unit: "degF" }],
            why: "“degF” in the name",
          },
          {
            header: "Why pulled",
            samples: ["TD", "washed", "planned"],
            becomes: [{ table: "runs", field: "pulled_because", unit: null }],
            why: "words, eleven of them",
          },
          { header: "Initials", samples: ["kj", "ab"], becomes: [], why: "no field of a run is like it" },
        ],
        counts,
        rowsByTable: { runs: 406 },
        problems: [
          problem(file, 44, {}),
          problem(file, 97, {
            value: "31/02/26",
            column: "Date out",
            code: "impossible-date",
            facts: { order: "dmy" },
          }),
          problem(file, 120, {
            value: "washed",
            column: "Why pulled",
            code: "word-not-known",
            severity: "notice",
            facts: { vocabulary: "pulled because" },
          }),
          problem(file, 188, {
            value: "washed",
            column: "Why pulled",
            code: "word-not-known",
            severity: "notice",
            facts: { vocabulary: "pulled because" },
          }),
          problem(file, 201, { value: nameWithMarkup, column: "Circ hrs" }),
        ],
        changes: [
          {
            row: { table: "runs", key: '["2988"]' },
            field: "hours",
            was: 42,
            becomes: 62.5,
            origin: { file, sheet: null, line: 12 },
          },
          {
            row: { table: "runs", key: '["2990"]' },
            field: "in_on",
            was: null,
            becomes: "2026-03-04",
            origin: { file, sheet: null, line: 14 },
          },
        ],
        gone: [{ row: { table: "runs", key: '["2901"]' }, origin: { file: "runs_2025.csv", sheet: null, line: 77 } }],
      },
    ],
    words: { version: 4, vocabularies: { "pulled because": { td: "planned", lih: "lost in hole" } } },
    confirmations: [
      {
        id: "c1",
        kind: "columns",
        question: "Are the columns of runs_2026.csv read rightly?",
        why: "Six of seven headers are like fields of a run.",
        proposed: "Run no is the run, Tool the serial, Circ hrs the hours, Date out the day it went out.",
        answered: ready,
      },
      {
        id: "c2",
        kind: "date order",
        question: "Do dates in “Date out” begin with the day?",
        why: "17/03/26 can be read in no other way.",
        proposed: "04/03/26 is 4 Mar 2026.",
        answered: ready,
      },
      {
        id: "c3",
        kind: "added rows",
        question: "What does a rebuild here renew?",
        why: "The sheet of redresses names no items.",
        proposed: "The main seal and the stack always; joints only where the threads are new.",
        answered: true,
      },
    ],
    setup: [
      {
        table: "tools",
        values: { serial: "AD650-035", tool_type: "axial damper", size_in: 6.5 },
        why: "the serial follows the pattern of the others",
      },
    ],
    linkProblems: [
      problem(file, 301, {
        code: "link-not-found",
        severity: "notice",
        column: "Tool",
        value: "AD65-017",
        facts: { table: "tools" },
      }),
    ],
    counts,
    ready,
  };
}

export const mockProgress: DropProgress = {
  id: "d1",
  state: "reading",
  stage: "waiting",
  rows: 0,
  rowsInAll: null,
  share: 0,
};

export const mockBatch: StoredBatch = {
  batch: 4,
  storedAt: "2026-07-02T09:14:00Z",
  who: "KJ",
  files: [
    {
      file: "runs_2026.csv",
      sha256: "0".repeat(64),
      bytes: 40210,
      counts: { lines: 412, new: 371, unchanged: 32, changed: 3, setAside: 6 },
    },
  ],
  counts: { lines: 412, new: 371, unchanged: 32, changed: 3, setAside: 6 },
  dataHash: "77aa01c2",
};
