// What happened to a tool, in words: nothing is added to what was written down.
import { expect, test } from "vitest";
import type { HistoryEvent } from "../../../analysis/study/types.ts";
import { sayEvent, sayEventName } from "../../../analysis/wording/index.ts";

const at = (event: HistoryEvent["event"]): HistoryEvent => ({
  on: "2025-03-04",
  order: 0,
  row: { table: "runs", key: '["R-1"]' },
  toolHours: 0,
  event,
});

test("a run says its hours, where it was and why it came back; what is blank is said so", () => {
  const run = {
    run: "R-1",
    serial: "QX-1",
    out_on: "2025-03-01",
    in_on: "2025-03-04",
    pulled_because: "tool failure",
  } as const;
  expect(sayEventName(at({ kind: "run", run, counted: true }))).toBe("Run R-1");
  expect(sayEvent(at({ kind: "run", run, counted: true }))).toEqual(["hours not written down", "pulled: tool failure"]);
  const full = { ...run, hours: 62.5, customer: "North Basin", max_temperature_C: 121, item_seen: "main seal" };
  expect(sayEvent(at({ kind: "run", run: full, counted: false }))).toEqual([
    "62.5 h; North Basin; up to 121 °C",
    "pulled: tool failure",
    "seen: main seal",
    "not counted in the ages",
  ]);
});

test("a redress says what was renewed, carried over and made up", () => {
  const redress = { redress: "B-7", serial: "QX-1", done_on: "2025-03-05", reason: "planned" } as const;
  const fitted = [
    { redress: "B-7", item: "main seal", renewed: true },
    { redress: "B-7", item: "mandrel", renewed: false },
  ];
  const joints = [
    { redress: "B-7", joint: "J1", new_thread: true },
    { redress: "B-7", joint: "J2" },
  ];
  const event = at({ kind: "redress", redress, fitted, joints });
  expect(sayEventName(event)).toBe("Redress B-7");
  expect(sayEvent(event)).toEqual([
    "reason: planned",
    "renewed: main seal",
    "carried over: mandrel",
    "made up: J1 (new thread), J2",
  ]);
  expect(sayEventName(at({ kind: "redress", redress: { ...redress, reason: "new" }, fitted, joints }))).toBe(
    "Build B-7",
  );
});

test("a teardown says each finding with its severity, then what was sound", () => {
  const teardown = { teardown: "T-3", serial: "QX-1", done_on: "2025-03-05", why: "planned" } as const;
  const findings = [
    { teardown: "T-3", item: "stack", condition: "sound" },
    { teardown: "T-3", item: "main seal", condition: "extrusion", severity: 3, note: "lip chewed" },
  ];
  expect(sayEvent(at({ kind: "teardown", teardown, findings }))).toEqual([
    "why: planned",
    "main seal: extrusion, severity 3, “lip chewed”",
    "sound: stack",
  ]);
  expect(sayEvent(at({ kind: "teardown", teardown, findings: [] }))).toContain("nothing written down about any item");
});
