import { expect, test } from "vitest";
import {
  exactSuccessRun,
  successRunBound,
  successRunSize,
} from "../../../../analysis/estimation/demonstration/successRun.ts";

// By hand: with one failure of five, P(N <= 1) = R^5 + 5 R^4 (1 - R).
test("one failure of five: at the bound, as many failures or fewer have probability 1 - confidence", () => {
  const bound = successRunBound(5, 1, 0.9);
  expect(bound ** 5 + 5 * bound ** 4 * (1 - bound)).toBeCloseTo(0.1, 12);
  expect(successRunBound(4, 4, 0.9)).toBe(0);
  expect(successRunBound(1, 0, 0.75)).toBeCloseTo(0.25, 14);
});

test("the size is the smallest that shows the reliability: one item fewer does not", () => {
  for (const failures of [0, 1, 3]) {
    const size = successRunSize(0.93, 0.9, failures);
    expect(successRunBound(size, failures, 0.9)).toBeGreaterThanOrEqual(0.93);
    expect(successRunBound(size - 1, failures, 0.9)).toBeLessThan(0.93);
  }
  expect(Math.ceil(exactSuccessRun(0.93, 0.9))).toBe(successRunSize(0.93, 0.9));
});

test("numbers that make no sense are refused by name", () => {
  expect(() => successRunBound(0, 0, 0.9)).toThrowError(/items/);
  expect(() => successRunBound(5, 6, 0.9)).toThrowError(/failures/);
  expect(() => successRunSize(1, 0.9)).toThrowError(/reliability/);
  expect(() => successRunSize(0.9, 1)).toThrowError(/confidence/);
});
