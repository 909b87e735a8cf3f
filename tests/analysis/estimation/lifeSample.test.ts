import { expect, test } from "vitest";
import { AnalysisError } from "../../../analysis/errors.ts";
import { type LifeInput, lifeSample } from "../../../analysis/estimation/lifeSample.ts";

test("lives become columns; what is left out is age 0 at entry, a count of 1, no range", () => {
  const sample = lifeSample({
    unit: "h",
    lives: [
      { lower: 10, upper: 10 },
      { lower: 20, upper: null, count: 3, id: "A" },
      { lower: 5, lowerHigh: 8, upper: 9, upperHigh: 12, entry: 2 },
    ],
  });
  expect([...sample.lower]).toEqual([10, 20, 5]);
  expect([...sample.lowerHigh]).toEqual([10, 20, 8]);
  expect([...sample.upper]).toEqual([10, Infinity, 9]);
  expect([...sample.upperHigh]).toEqual([10, Infinity, 12]);
  expect([...sample.entry]).toEqual([0, 0, 2]);
  expect([...sample.count]).toEqual([1, 3, 1]);
  expect(sample.ids).toEqual(["row 1", "A", "row 3"]);
});

test("a life seen sound at entry cannot have failed before it", () => {
  const sample = lifeSample({ unit: "h", lives: [{ lower: 0, upper: 50, entry: 20 }] });
  expect(sample.lower[0]).toBe(20);
});

const wrong: readonly [string, LifeInput, string, string][] = [
  ["a negative age", { lower: -1, upper: 5 }, "lower", "negative"],
  ["an age that is not a number", { lower: Number.NaN, upper: null }, "lower", "not finite"],
  ["an infinite upper end (right-censored is null)", { lower: 1, upper: Infinity }, "upper", "not finite"],
  ["a lower end above the upper", { lower: 9, upper: 5 }, "lower", "lower above upper"],
  ["observation that begins after the life ended", { lower: 9, upper: null, entry: 10 }, "entry", "entry beyond exit"],
  ["a failure at the very age of entry", { lower: 9, upper: 9, entry: 9 }, "entry", "entry beyond exit"],
  ["a count of zero", { lower: 9, upper: 9, count: 0 }, "count", "count not above zero"],
  ["a count that is not a number", { lower: 9, upper: 9, count: Number.NaN }, "count", "not finite"],
  ["a range that runs backwards", { lower: 9, lowerHigh: 8, upper: null }, "lowerHigh", "range reversed"],
  [
    "ranges that end in the wrong order",
    { lower: 1, lowerHigh: 30, upper: 9, upperHigh: 20 },
    "lowerHigh",
    "ranges cross",
  ],
  [
    "a range of an end that does not exist",
    { lower: 1, upper: null, upperHigh: 5 },
    "upperHigh",
    "range without upper",
  ],
];

test.each(wrong)("refuses %s, naming row, column and value", (_, life, column, why) => {
  const lives = [
    { lower: 1, upper: 2 },
    { ...life, id: "B-7" },
  ];
  try {
    lifeSample({ unit: "h", lives });
    expect.unreachable();
  } catch (error) {
    if (!(error instanceof AnalysisError)) throw error;
    expect(error.code).toBe("bad-life");
    expect(error.facts).toMatchObject({ row: 2, id: "B-7", column, why });
    expect(String(error.facts.value)).toMatch(/NaN|Infinity|\d/);
  }
});

test("refuses an empty list", () => {
  expect(() => lifeSample({ unit: "h", lives: [] })).toThrowError(/no-lives/);
});
