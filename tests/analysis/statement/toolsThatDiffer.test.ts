// Before and after a change where the failures lie on few tools: every failure for itself would claim too much.
import { expect, test } from "vitest";
import { rateRatio } from "../../../analysis/estimation/rateRatio.ts";
import { statementDocument } from "../../../analysis/index.ts";
import { shopOf, spells, statementOf } from "../../support/statementShop.ts";

const change = { what: "a new ring", on: "2024-07-01", countedFrom: null, appliesTo: "runs" } as const;

/** Sixty spells of sixty hours before the change and sixty after it; ten and five seals worn, on all tools or on one of six. */
function compared(onOneTool: boolean) {
  const tools = onOneTool ? 6 : 5;
  const lay = (from: string, nth: number) => spells(60, { from, every: 2, tools, nth });
  const result = statementOf(shopOf([...lay("2024-01-02", 6), ...lay("2024-08-01", 12)]), { change });
  const wear = result.beforeAfter?.comparisons.find(({ mode }) => mode === "wear");
  const table = statementDocument(result)
    .sections.find(({ id }) => id === "change")
    ?.blocks.find(({ kind }) => kind === "table");
  if (wear === undefined || table?.kind !== "table") throw new Error("nothing compared");
  return { wear, note: table.note ?? "" };
}

test("failures spread over the tools: the bounds are the exact ones", () => {
  const { wear, note } = compared(false);
  const side = ({ failures, hours }: { readonly failures: number; readonly hours: number }) => ({ failures, hours });
  // Each build renews the seal and runs sixty hours: two bands of age with the same failures as one.
  expect(wear.ratio.method).toBe("exact conditional");
  expect([wear.before, wear.after].map(side)).toEqual([
    { failures: 10, hours: 3_600 },
    { failures: 5, hours: 3_600 },
  ]);
  const hand = rateRatio([{ before: { failures: 10, hours: 600 }, after: { failures: 5, hours: 600 } }], 0.9);
  expect(wear.ratio.lower).toBeCloseTo(hand.lower, 9);
  expect(wear.ratio.upper).toBeCloseTo(hand.upper ?? Number.NaN, 9);
  expect(note).not.toContain("widened by tool");
});

test("all on one tool: that tools differ is found and said", () => {
  const { wear, note } = compared(true);
  expect(wear.ratio.method).toBe("exact conditional, widened by tool");
  expect(note).toMatch(/Tools differ by more than chance in: .*Main seal, wear\./);
});
