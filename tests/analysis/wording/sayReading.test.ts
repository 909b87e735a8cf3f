// Today's words, read aloud: a change is noticed and read again.
import { expect, test } from "vitest";
import type { Estimate } from "../../../analysis/study/types.ts";
import { sayBound, sayLevel, sayReading } from "../../../analysis/wording/index.ts";

const estimate = (given: Partial<Estimate>): Estimate => ({
  value: null,
  lower: null,
  upper: null,
  confidence: 0.9,
  method: "likelihood ratio",
  unit: "h",
  ...given,
});

test("a value stands with its unit, its bounds in columns of their own", () => {
  const life = estimate({ value: 410.4, lower: 365.2 });
  expect([sayReading(life), sayBound(life, "lower"), sayBound(life, "upper")]).toEqual(["410 h", "365 h", "unbounded"]);
  expect(sayReading(estimate({ value: 0.7954, unit: "fraction" }))).toBe("0.795");
});

test("where there is no value, a lower bound that says something is said", () => {
  expect(sayReading(estimate({ why: "not reached", lower: 284.4 }))).toBe("not reached; at least 284 h");
  const run = estimate({ why: "no failures", method: "success run", unit: "fraction", lower: 0.9701 });
  expect(sayReading(run)).toBe("at least 0.97");
});

test("a bound of nought says nothing, and no bound at all is said so", () => {
  expect(sayReading(estimate({ why: "not reached", lower: 0 }))).toBe("not reached");
  const none = estimate({ why: "no failures", method: "none" });
  expect([sayReading(none), sayBound(none, "lower")]).toEqual(["no failures", "no bounds"]);
});

test("the level of a two-sided interval is said side by side", () => {
  expect([sayLevel(0.9, "below"), sayLevel(0.95, "above")]).toEqual(["5 % below", "2.5 % above"]);
});
