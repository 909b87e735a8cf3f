// Today's headings of pictures: each states what the picture shows, and never more than the bounds allow.
import { describe, expect, test } from "vitest";
import type { Estimate, ItemLifeResult, WhatFailsResult } from "../../../analysis/study/types.ts";
import {
  sayFleetFinding,
  sayHistoryFinding,
  sayLifeEnd,
  sayLifeFinding,
  sayLineCounts,
  sayMissingHours,
} from "../../../analysis/wording/index.ts";
import { itemLifeFixture, toolHistoryFixture, whatFailsFixture } from "../../support/chartFixtures.ts";

const life = itemLifeFixture();
const none = itemLifeFixture({ scale: 1e6 });
const fleet = whatFailsFixture();

const read = (given: Partial<Estimate>): Estimate => ({
  value: null,
  lower: null,
  upper: null,
  confidence: 0.9,
  method: "none",
  unit: "h",
  ...given,
});
const withReadings = (result: ItemLifeResult, readings: Partial<ItemLifeResult["readings"]>): ItemLifeResult => ({
  ...result,
  readings: { ...result.readings, ...readings },
});

describe("the life of an item", () => {
  test("says by when one in ten has failed, with bounds", () => {
    const b10 = read({ value: 185.2, lower: 149, upper: 229, method: "likelihood ratio" });
    expect(sayLifeFinding(withReadings(life, { b10 }), "survival")).toBe(
      "Main seal, extrusion: one in ten has failed by 185 h (149–229, 90 %)",
    );
  });

  test("says the least share still good where nothing failed", () => {
    const reliability = read({ lower: 0.9712, method: "success run", unit: "fraction", why: "no failures" });
    const result = withReadings(none, { b10: read({ why: "no failures" }), reliability, statedAge: 220 });
    expect(sayLifeFinding(result, "survival")).toBe("Main seal, extrusion: at least 97.1 % still good at 220 h (90 %)");
    expect(sayLifeFinding(none, "probability")).toBe("Main seal, extrusion: no failures yet, so no points");
  });

  test("says that one in ten is not reached, with its lower bound", () => {
    const b10 = read({ why: "not reached", lower: 284, method: "likelihood ratio" });
    expect(sayLifeFinding(withReadings(life, { b10 }), "survival")).toBe(
      "Main seal, extrusion: the age by which one in ten has failed is not reached (284 h or more, 90 %)",
    );
  });

  test("says wearing out or failing early only where the bounds of the shape leave no doubt", () => {
    const shaped = (lower: number, upper: number): ItemLifeResult => {
      const shape = read({ value: Math.sqrt(lower * upper), lower, upper, unit: "none", method: "likelihood ratio" });
      return { ...life, fit: life.fit && { ...life.fit, shape } };
    };
    expect(sayLifeFinding(shaped(1.2, 2.4), "probability")).toContain("wears out");
    expect(sayLifeFinding(shaped(0.4, 0.9), "probability")).toContain("fails early");
    expect(sayLifeFinding(shaped(0.8, 1.6), "probability")).toContain("no change of risk with hours shown yet");
  });
});

describe("the fleet", () => {
  const periods = (rates: readonly (readonly [number, number])[]): WhatFailsResult => ({
    ...fleet,
    periods: rates.map(([lower, upper], index) => ({
      from: "",
      to: "",
      label: `half-year ${index + 1}`,
      failures: 10,
      hours: 1000,
      rate: read({ value: (lower + upper) / 2, lower, upper, method: "exact Poisson", unit: "per 1,000 h" }),
      byMode: [],
    })),
  });

  test("a change over time is claimed only where the bounds do not overlap", () => {
    const say = (rates: readonly (readonly [number, number])[]) => sayFleetFinding(periods(rates), "over time");
    expect(
      say([
        [1, 2],
        [5, 6],
        [3, 4],
      ]),
    ).toBe("Failures per 1,000 h by half-year: higher in half-year 3 than in half-year 1");
    expect(
      say([
        [3, 4],
        [1, 2],
      ]),
    ).toBe("Failures per 1,000 h by half-year: lower in half-year 2 than in half-year 1");
    expect(
      say([
        [1, 3],
        [2, 4],
      ]),
    ).toBe("Failures per 1,000 h by half-year: no difference shown yet between half-year 1 and half-year 2");
    expect(say([[1, 3]])).toBe("Failures per 1,000 h by half-year");
  });

  test("names the mode with the highest rate, with bounds; nothing where there is none", () => {
    expect(sayFleetFinding(fleet, "rates")).toMatch(/: the highest rate, [\d.]+ per 1,000 h \([\d.]+–[\d.]+, 90 %\)$/);
    expect(sayFleetFinding({ ...fleet, modes: [] }, "rates")).toBe("No failure mode in this scope");
    expect(sayFleetFinding({ ...fleet, drawing: [] }, "drawing")).toContain("no failures");
    expect(sayFleetFinding(fleet, "drawing")).toMatch(/^Where in the tool: the main seal fails most for its hours;/);
    const only = fleet.drawing.map((tool) => ({
      ...tool,
      items: tool.items.map((item) => (item.item === "J1" ? item : { ...item, failures: 0, shrunkenRate: null })),
    }));
    expect(sayFleetFinding({ ...fleet, drawing: only }, "drawing")).toBe("Where in the tool: J1");
  });
});

test("one serial is named with its first and last date", () => {
  const history = toolHistoryFixture();
  expect(sayHistoryFinding(history)).toMatch(/^AD650-017 from \d+ \w+ \d{4} to \d+ \w+ \d{4}$/);
  expect(sayHistoryFinding({ ...history, events: [] })).toBe("AD650-017: nothing written down yet");
});

test("small words: how a life ended, missing hours, lines of a drop", () => {
  expect(sayLifeEnd({ kind: "left" })).toBe("found failed at the first inspection");
  expect(sayMissingHours("left out")).toBe("lives with them left out");
  expect(sayLineCounts({ lines: 1412, new: 1403, unchanged: 0, changed: 3, setAside: 6 })).toBe(
    "1,403 new, 3 changed, 6 set aside",
  );
  expect(sayLineCounts({ lines: 2, new: 0, unchanged: 2, changed: 0, setAside: 0 })).toBe(
    "2 unchanged, none set aside",
  );
});
