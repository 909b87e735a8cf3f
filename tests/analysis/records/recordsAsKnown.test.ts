// By hand: what a shop knew on 1 March.
import { expect, test } from "vitest";
import type { Records } from "../../../analysis/records/descriptor.ts";
import { recordsAsKnown } from "../../../analysis/records/recordsAsKnown.ts";

const records: Records = {
  tools: [
    { serial: "A", tool_type: "t", entered_on: "2024-01-01", status: "lost in hole", status_on: "2024-02-20" },
    { serial: "B", tool_type: "t", entered_on: "2024-01-01", status: "out", status_on: "2024-06-30" },
    { serial: "C", tool_type: "t", entered_on: "2024-04-01" },
  ],
  redresses: [
    { redress: "R1", serial: "B", done_on: "2024-01-05", reason: "new" },
    { redress: "R2", serial: "B", done_on: "2024-03-02", reason: "planned" },
  ],
  fitted_items: [
    { redress: "R1", item: "seal", renewed: true },
    { redress: "R2", item: "seal", renewed: true },
  ],
  runs: [
    { run: "1", serial: "B", out_on: "2024-01-10", in_on: "2024-01-20", hours: 40, pulled_because: "planned" },
    {
      run: "2",
      serial: "B",
      out_on: "2024-02-01",
      in_on: "2024-02-10",
      reported_on: "2024-03-05",
      hours: 50,
      pulled_because: "tool failure",
    },
    { run: "3", serial: "B", out_on: "2024-02-25", in_on: "2024-03-06", hours: 60, pulled_because: "planned" },
    { run: "4", serial: "B", out_on: "2024-03-20", in_on: "2024-03-25", hours: 20, pulled_because: "planned" },
  ],
  teardowns: [{ teardown: "L1", serial: "B", done_on: "2024-03-02", why: "planned" }],
  findings: [{ teardown: "L1", item: "seal", condition: "sound" }],
};

test("a run reported later, or still out, is open without hours or reason; later rows are not there", () => {
  const then = recordsAsKnown(records, "2024-03-01");
  expect(then.runs?.map(({ run, in_on, hours }) => [run, in_on ?? null, hours ?? null])).toEqual([
    ["1", "2024-01-20", 40],
    ["2", null, null],
    ["3", null, null],
  ]);
  expect(then.runs?.[1]?.pulled_because).toBe("not known");
  expect(then.redresses?.map(({ redress }) => redress)).toEqual(["R1"]);
  expect(then.fitted_items?.length).toBe(1);
  expect([then.teardowns, then.findings]).toEqual([[], []]);
});

test("a tool lost by then stays lost; another's status is not known; one that came later is not there", () => {
  const { tools } = recordsAsKnown(records, "2024-03-01");
  expect(tools?.map(({ serial, status }) => [serial, status])).toEqual([
    ["A", "lost in hole"],
    ["B", "not known"],
  ]);
});
