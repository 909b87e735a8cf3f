import { expect, test } from "vitest";
import type { ScopeChoices } from "../../../../analysis/index.ts";
import { changedRow, sameCell } from "../../../../web/state/changedRow.ts";
import { keptByHand } from "../../../../web/state/formTables.ts";
import { newPlan, planTables } from "../../../../web/state/planDefaults.ts";
import { offersOf } from "../../../../web/state/tableDefaults.ts";

const choices: ScopeChoices = {
  toolTypes: [
    {
      toolType: "axial damper",
      sizesIn: [4.75],
      items: [{ item: "main seal", kind: "seal", position: 2, modes: ["leak"] }],
    },
  ],
  customers: ["Customer Elm"],
  firstDate: null,
  lastDate: null,
  serials: [{ serial: "AD-1", toolType: "axial damper", sizeIn: 4.75, status: "in shop", runs: 1, failures: 0 }],
};
const known = { today: "2026-07-01", rows: [], choices, kits: ["K-1"] };

test("a cost takes over the currency of the cost dated last, whatever the order of the rows", () => {
  const rows = [
    { dated_on: "2025-01-01", currency: "EUR" },
    { dated_on: "2026-01-01", currency: "NOK" },
    { dated_on: "2024-01-01", currency: "USD" },
  ];
  expect(newPlan("costs", { ...known, rows }).values).toEqual({ dated_on: "2026-07-01", currency: "NOK" });
  expect(newPlan("costs", known).values).toEqual({ dated_on: "2026-07-01", currency: null });
  expect(newPlan("costs", known).choices.tool_type).toEqual(["axial damper", "all"]);
});

test("a decision is about an item or the whole tool; a count about a kit that items name; nothing is filled in unasked", () => {
  expect(newPlan("decisions", known).choices.item).toEqual(["whole tool", "main seal"]);
  expect(newPlan("stock", { ...known, rows: [{ kit: "K-2" }, { kit: "K-1" }] }).choices.kit).toEqual(["K-1", "K-2"]);
  for (const table of planTables)
    for (const field of Object.keys(newPlan(table, known).values))
      expect(["dated_on", "counted_on", "currency"]).toContain(field);
});

test("the tables kept by hand are those that tell nothing that happened", () => {
  expect(keptByHand).toEqual(["tool_items", "modes", "compounds", ...planTables]);
});

test("a changed row is sent with its name and what differs, so that what another changed meanwhile stays", () => {
  const stored = { kit: "K-1", on_hand: 3, lead_time_d: 35, note: null };
  expect(changedRow("stock", stored, { ...stored, on_hand: 2 })).toEqual({
    table: "stock",
    values: { kit: "K-1", on_hand: 2 },
  });
  expect(sameCell(undefined, null)).toBe(true);
  expect(sameCell(["a"], ["a", "b"])).toBe(false);
});

test("the trade list offers only what the table does not hold, for the list of modes alone", () => {
  const all = offersOf("modes", []);
  const [first] = all;
  expect(all.length).toBeGreaterThan(20);
  expect(offersOf("modes", [first?.values ?? {}])).toHaveLength(all.length - 1);
  expect(offersOf("costs", [])).toEqual([]);
});
