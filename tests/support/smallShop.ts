import { keyOf, type Records, type TableName, tableNames } from "../../analysis/index.ts";
import type { BatchInput } from "../../server/storage/store.ts";

/** Hours at which the main seal of each build was found worn through, or null where it was sound when looked at. */
const ends: readonly (readonly [serial: string, ...hours: readonly (readonly [hours: number, failed: boolean])[]])[] = [
  ["QX-101", [110, true], [180, true], [95, false], [240, true]],
  ["QX-102", [150, false], [210, true], [130, true], [60, false]],
  ["QX-103", [320, true], [140, false], [175, true], [205, true]],
  ["QX-104", [90, false], [160, true], [260, true], [120, false]],
];

/**
 * An invented shop of four tools and sixteen builds: enough for every question to have an answer. Each build renews the
 * main seal and makes up J1, runs once, and is looked at.
 */
export function smallShop(): Records {
  const builds = ends.flatMap(([serial, ...hours]) =>
    hours.map(([life, failed], index) => ({ serial, life, failed, index, id: `${serial}-${index + 1}` })),
  );
  const on = (index: number, day: number) =>
    `2024-${String(index * 3 + 1).padStart(2, "0")}-${String(day).padStart(2, "0")}`;
  return {
    tool_items: [
      { tool_type: "Quill", item: "J1", kind: "joint", position: 1 },
      { tool_type: "Quill", item: "main seal", kind: "seal", position: 2 },
    ],
    modes: [
      { item: "main seal", mode: "wear", announces: "hidden", threshold: 3, restored_by: "renewed" },
      { item: "J1", mode: "back-off", announces: "hidden", threshold: 3, restored_by: "made up" },
    ],
    tools: ends.map(([serial], index) => ({
      serial,
      tool_type: "Quill",
      size_in: index < 2 ? 4.75 : 6.5,
      entered_on: "2024-01-01",
      hours_at_entry: 0,
      status: "in shop",
    })),
    redresses: builds.map(({ id, serial, index }) => ({
      redress: id,
      serial,
      done_on: on(index, 2),
      reason: index === 0 ? "new" : "planned",
    })),
    joints: builds.map(({ id }) => ({ redress: id, joint: "J1", new_thread: true })),
    fitted_items: builds.map(({ id }) => ({ redress: id, item: "main seal", renewed: true })),
    runs: builds.map(({ id, serial, life, failed, index }) => ({
      run: `run ${id}`,
      serial,
      out_on: on(index, 5),
      in_on: on(index, 25),
      hours: life,
      hours_kind: "circulating",
      customer: index % 2 === 0 ? "Northern Example Drilling" : '<b>"Bold" & Sons</b>',
      pulled_because: failed ? "tool failure" : "planned",
    })),
    teardowns: builds.map(({ id, serial, failed, index }) => ({
      teardown: `look ${id}`,
      serial,
      done_on: on(index, 27),
      why: failed ? "tool failure" : "planned",
      scope: ["main seal", "J1"],
      kind: "stripped",
    })),
    findings: builds.map(({ id, failed }) =>
      failed
        ? { teardown: `look ${id}`, item: "main seal", condition: "wear", severity: 4 }
        : { teardown: `look ${id}`, item: "main seal", condition: "sound" },
    ),
  };
}

/** Records as one batch, without sheets. */
export function batchOf(records: Records, who = "AB"): BatchInput {
  return {
    who,
    when: "2025-01-02T08:00:00.000Z",
    files: [],
    sheets: [],
    words: { version: 1, vocabularies: {} },
    setup: tableNames.flatMap((table) => setupOf(table, records)),
  };
}

function setupOf<T extends TableName>(table: T, records: Records): BatchInput["setup"] {
  const keys = new Set<string>();
  return (records[table] ?? []).map((row) => {
    const key = keyOf(table, row);
    if (keys.has(key)) throw new Error(`${table} ${key} is there twice`);
    keys.add(key);
    return { table, values: { ...row }, why: "a test says so" };
  });
}
