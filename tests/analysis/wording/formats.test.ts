import { expect, test } from "vitest";
import type { Estimate, Scope } from "../../../analysis/study/types.ts";
import {
  formatAge,
  formatConfidence,
  formatDate,
  formatEstimate,
  formatExact,
  formatHours,
  formatNumber,
  formatPercent,
  formatPeriod,
  formatSize,
  sayScope,
} from "../../../analysis/wording/index.ts";

const estimate = (given: Partial<Estimate>): Estimate => ({
  value: 410,
  lower: 365,
  upper: 455,
  confidence: 0.9,
  method: "likelihood ratio",
  unit: "h",
  ...given,
});

test.each([
  [0, "0"],
  [62.5, "62.5"],
  [410.4, "410"],
  [1234.5, "1,230"],
  [27719, "27,700"],
  [1_234_567, "1,230,000"],
  [0.0457, "0.0457"],
  [0.000012345, "0.0000123"],
  [0.5, "0.5"],
  [100, "100"],
  [99.95, "100"],
  [-2.3456, "−2.35"],
  [0.9996, "0.9996"],
  [0.99, "0.99"],
  [0.99999, "0.99999"],
  [1e-9, "1 × 10⁻⁹"],
  [2.5e12, "2.5 × 10¹²"],
  [Number.POSITIVE_INFINITY, "unbounded"],
  [Number.NaN, "undefined"],
])("the number %d reads %s", (value, words) => {
  expect(formatNumber(value)).toBe(words);
});

test("counts and stored cells keep every digit", () => {
  expect([13558, 62.25, -4, 1e21].map(formatExact)).toEqual(["13,558", "62.25", "−4", "1e+21"]);
});

test("an age is a number or a range of hours", () => {
  expect([formatAge(62.5), formatAge([40, 88]), formatAge([40, 40]), formatAge(null), formatHours(1204)]).toEqual([
    "62.5 h",
    "40–88 h",
    "40 h",
    "not known",
    "1,200 h",
  ]);
});

test("dates name the month; whole years read as years", () => {
  expect(formatDate("2024-03-05")).toBe("5 Mar 2024");
  expect(formatDate("spring")).toBe("spring");
  expect(formatDate(null)).toBe("not known");
  expect(formatPeriod("2024-01-01", "2026-12-31")).toBe("2024–2026");
  expect(formatPeriod("2025-01-01", "2025-12-31")).toBe("2025");
  expect(formatPeriod("2024-03-05", "2026-12-31")).toBe("5 Mar 2024 to 31 Dec 2026");
  expect(formatPeriod("2024-01-01", null)).toBe("since 2024");
  expect(formatPeriod(null, "2025-06-30")).toBe("until 30 Jun 2025");
  expect(formatPeriod(null, null)).toBeNull();
});

// Sizes: tool ODs of the trade, 4 3/4, 6 1/2, 6 3/4, 8, 9 1/2 in; 9 5/8 in is a casing size (common practice).
test.each([
  [6.5, "6 1/2 in"],
  [4.75, "4 3/4 in"],
  [6.75, "6 3/4 in"],
  [8, "8 in"],
  [9.625, "9 5/8 in"],
  [0.375, "3/8 in"],
  [6.015625, "6 1/64 in"],
  [6.3, "6.3 in"],
  [6.9999, "6.9999 in"],
])("the size %d reads %s", (size, words) => {
  expect(formatSize(size)).toBe(words);
});

test("an estimate carries unit, bounds and their level", () => {
  expect(formatEstimate(estimate({}))).toBe("410 h (365–455, 90 %)");
  expect(formatEstimate(estimate({ unit: "per 1,000 h", value: 0.5217, lower: 0.31, upper: 0.8 }))).toBe(
    "0.522 per 1,000 h (0.31–0.8, 90 %)",
  );
  expect(formatEstimate(estimate({ unit: "fraction", value: 0.7788, lower: 0.7, upper: 0.842 }))).toBe(
    "0.779 (0.7–0.842, 90 %)",
  );
  expect(formatConfidence(0.975)).toBe("97.5 %");
});

test("what an estimate lacks is said in words", () => {
  expect(formatEstimate(estimate({ upper: null }))).toBe("410 h (365–unbounded, 90 %)");
  expect(formatEstimate(estimate({ lower: null, upper: null }))).toBe("410 h (no bounds)");
  expect(formatEstimate(estimate({ value: null, upper: null, why: "not reached" }))).toBe(
    "not reached (365 h or more, 90 %)",
  );
  expect(formatEstimate(estimate({ value: null, lower: null, upper: null, why: "not reached" }))).toBe("not reached");
  expect(formatEstimate(estimate({ value: null, lower: null, upper: null, why: "no maximum" }))).toBe("not known yet");
  expect(formatEstimate(estimate({ unit: "per 1,000 h", value: 0, lower: 0, upper: 1.498, why: "no failures" }))).toBe(
    "no failures (at most 1.5 per 1,000 h, 90 %)",
  );
  expect(
    formatEstimate(estimate({ unit: "per 1,000 h", value: null, lower: null, upper: null, why: "no hours" })),
  ).toBe("no hours");
});

test("a scope reads as a sentence", () => {
  const all: Scope = {
    toolType: null,
    sizeIn: null,
    item: null,
    mode: null,
    serial: null,
    customer: null,
    from: null,
    to: null,
  };
  expect(sayScope(all)).toBe("All tools and items");
  expect(sayScope({ ...all, item: "main seal", mode: "leak", sizeIn: 6.5, from: "2024-01-01", to: "2026-12-31" })).toBe(
    "Main seal, leak, 6 1/2 in, 2024–2026",
  );
  expect(sayScope({ ...all, toolType: "AD", sizeIn: 4.75 })).toBe("All items, AD, 4 3/4 in");
  expect(sayScope({ ...all, serial: "AD650-014", from: "2025-02-01" })).toBe("AD650-014, since 1 Feb 2025");
});

test("shares in per cent: three digits, and never 100 for less than all", () => {
  const shares = [0, 0.00123, 0.5, 0.9456, 0.999, 0.9994, 0.9996, 1 - 1e-9, 1];
  expect(shares.map(formatPercent).join(" ")).toBe("0 0.123 50 94.6 99.9 99.9 over 99.9 over 99.9 100");
});
