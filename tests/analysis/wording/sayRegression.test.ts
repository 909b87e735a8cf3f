import { expect, test } from "vitest";
import type { PracticeNotice } from "../../../analysis/practice/types.ts";
import { sayError } from "../../../analysis/wording/sayError.ts";
import { sayNoRegression, sayRegressionNotice } from "../../../analysis/wording/sayRegression.ts";

test("notices say what is so, with its numbers", () => {
  const notices: readonly PracticeNotice[] = [
    { code: "few-failures-per-coefficient", facts: { failures: 12, coefficients: 3 } },
    { code: "few-clusters", facts: { clusters: 9 } },
    { code: "penalised", facts: {} },
  ];
  expect(notices.map(sayRegressionNotice)).toEqual([
    "12 failures for 3 effects: fewer than ten for each. Estimates then lie too far from no effect, and their bounds are too narrow.",
    "The bounds allow for lives of one tool being alike, by 9 tools. With fewer than thirty they are too narrow.",
    "The effects are drawn towards no effect, because the lives alone do not bound them all. They are not plain estimates.",
  ]);
});

test("where there is no regression, the variables are named", () => {
  expect(sayNoRegression("separated", ["crew: night"])).toContain('The effect of "crew: night" has no end');
  expect(sayNoRegression("columns dependent", ["a", "b"])).toContain('"a" and "b" cannot be told apart');
  for (const maximum of ["no failures", "spread shrinks to 0", "not converged"] as const) {
    expect(sayNoRegression(maximum)).toMatch(/^[A-Z].*\.$/);
  }
});

test("a row of follow-up that does not hold together is named by its own words", () => {
  expect(
    sayError({ code: "bad-life", facts: { row: 2, id: null, column: "stop", value: "5", why: "entry beyond exit" } }),
  ).toBe(
    "Life 2 does not hold together: the age at which the row ends is 5, after its life was over. Correct it and bring the lives again.",
  );
});
