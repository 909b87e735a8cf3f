import { expect, test } from "vitest";
import { weightedSample } from "../../../../analysis/estimation/bootstrap/weightedSample.ts";
import { influenceOfFailures } from "../../../../analysis/estimation/checks/influenceOfFailures.ts";
import { fitWeibull } from "../../../../analysis/estimation/fitWeibull.ts";
import { failed, found, running } from "../../../support/estimation/found.ts";
import { randomLives } from "../../../support/estimation/randomLives.ts";

test.each(["exact and right", "between looks", "truncated", "ranged"] as const)(
  "one Newton step agrees with leaving the failure out and fitting again: %s",
  (mix) => {
    const { sample, fit } = found(randomLives(17, 120, mix));
    const { failures, estimate } = influenceOfFailures(fit, sample, 0);
    expect(failures.length).toBeGreaterThan(40);
    for (const { row, without, b10Ratio } of failures) {
      const weights = Float64Array.from(sample.count);
      weights[row] = 0;
      const again = fitWeibull(weightedSample(sample, weights));
      if (again.maximum !== "found") throw new Error(again.maximum);
      const moved = Math.log(again.shape / estimate.shape);
      expect(Math.abs(Math.log(without.shape / again.shape))).toBeLessThan(0.002 + 0.15 * Math.abs(moved));
      expect(Math.abs(Math.log(without.scale / again.scale))).toBeLessThan(0.002);
      expect(b10Ratio).toBeCloseTo(without.b10 / estimate.b10, 12);
    }
  },
);

test("a very early failure is named first, with the tool it belongs to, from a full refit", () => {
  const lives = [
    { lower: 4, upper: 4, id: "T-07" },
    ...failed(210, 250, 280, 300, 330, 360, 400).map((life, i) => ({ ...life, id: `T-1${i}` })),
    ...running(380, 410).map((life, i) => ({ ...life, id: `T-2${i}` })),
  ];
  const { sample, fit } = found(lives);
  const { failures, notices } = influenceOfFailures(fit, sample);
  expect(failures[0]).toMatchObject({ id: "T-07", row: 0, by: "refit" });
  expect(failures[0]!.b10Ratio).toBeGreaterThan(2);
  expect(failures[0]!.without.shape).toBeCloseTo(found(lives.slice(1)).fit.shape, 9);
  expect(notices[0]).toMatchObject({ code: "case-decides", facts: { id: "T-07", row: 1 } });
});

test("of a row that counts several, one is left out", () => {
  const rows = [{ lower: 50, upper: 50, count: 3 }, ...failed(80, 90, 120), ...running(130)];
  const copied = [...failed(50, 50, 50, 80, 90, 120), ...running(130)];
  const [a, b] = [found(rows), found(copied)];
  const [one] = influenceOfFailures(a.fit, a.sample, 0).failures.filter(({ row }) => row === 0);
  const [same] = influenceOfFailures(b.fit, b.sample, 0).failures.filter(({ row }) => row === 0);
  expect(one!.without.shape).toBeCloseTo(same!.without.shape, 8);
});
