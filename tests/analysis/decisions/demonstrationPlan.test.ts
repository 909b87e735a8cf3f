// Trade note 6.6, recomputed: 22 runs show 0.90 at 90 %, 45 show 0.95 at 90 %. Longer runs by hand.
import { expect, test } from "vitest";
import { demonstrationPlans } from "../../../analysis/decisions/demonstrationPlan.ts";

test("without a failure: 22 runs for 10 % at 90 %, 45 for 5 %; each failure allowed asks for more", () => {
  const plans = demonstrationPlans(0.1, 0.9);
  expect(plans[0]).toEqual({ failures: 0, runs: 22 });
  expect(demonstrationPlans(0.05, 0.9)[0]?.runs).toBe(45);
  // Binomial, by the reference file of the success run: one failure 38, two 52.
  expect(plans.map(({ runs }) => runs)).toEqual([22, 38, 52]);
});

test("runs twice as long with a shape of 2 count for four", () => {
  // ln 0.1 / (4 ln 0.9) = 5.46.
  expect(demonstrationPlans(0.1, 0.9, { times: 2, shape: 2 })[0]?.runs).toBe(6);
  expect(() => demonstrationPlans(0.1, 0.9, { times: 0 })).toThrow("bad-setting");
  expect(() => demonstrationPlans(1, 0.9)).toThrow("bad-setting");
});
