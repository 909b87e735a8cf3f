// What changed since the last statement: what was asked, what was counted, and numbers of the same time that no longer stand.
import { describe, expect, test } from "vitest";
import { type Records, type StatementDefinition, type StatementResult, sayChanges } from "../../../analysis/index.ts";
import { shopOf, spells, statementOf } from "../../support/statementShop.ts";

/** 26 spells of 60 h in the first half of 2024, every fourth worn, then 14 in the second with the same. */
const shop = spells(40, { nth: 4 });
const made = (records: Records, dataHash: string, more: Partial<StatementDefinition> = {}): StatementResult => {
  const statement = statementOf(records, more);
  return {
    ...statement,
    contentHash: `${dataHash}-${statement.contentHash}`,
    provenance: { ...statement.provenance, dataHash },
  };
};
const first = made(shopOf(shop), "a");

describe("restated numbers", () => {
  test("a failure of an earlier half-year that came in late: before, now, and why", () => {
    const late = shop.map((one, index) => (index === 0 ? { ...one, worn: true } : one));
    const changes = sayChanges(first, made(shopOf(late), "b"));
    expect(changes).toContain("The records have changed.");
    expect(changes).toContain(
      "2024 Jan-Jun, restated: 6 items found failed in 1,560 h before, 7 items found failed in 1,560 h now.",
    );
    expect(changes).toContain(
      "Restated because records of that time came in late, were corrected, or were looked at only since. What the last statement said of that half-year no longer holds.",
    );
    expect(changes.filter((change) => change.includes("Jul-Dec"))).toEqual([]);
  });

  test("another definition restates too, and is the reason given", () => {
    const changes = sayChanges(first, made(shopOf(shop), "a", { thresholds: { wear: 5 } }));
    expect(changes.filter((change) => change.includes("restated"))).toHaveLength(2);
    expect(changes).toContain(
      "Restated because what counts is set otherwise. What the last statement said of those half-years no longer holds.",
    );
  });

  test("new runs alone restate nothing: a half-year that was still running is no restatement", () => {
    const more = shopOf([...shop, ...spells(10, { from: "2024-10-08", nth: 5 })]);
    const changes = sayChanges(first, made(more, "b"));
    expect(changes).toContain("Runs: 40 before, 50 now.");
    expect(changes.filter((change) => /restated/i.test(change))).toEqual([]);
  });
});

test("nothing changed is said to the last digit; another setting that moves no count is said too", () => {
  expect(sayChanges(first, first)).toEqual(["Nothing: the content is the same to the last digit."]);
  const other = made(shopOf(shop), "a", { units: "oilfield" });
  expect(sayChanges(first, other)).toEqual(["Settings that change no count: see the method notes."]);
});
