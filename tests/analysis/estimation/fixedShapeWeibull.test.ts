import { expect, test } from "vitest";
import { fixedShapeBounds, fixedShapeWeibull } from "../../../analysis/estimation/fixedShapeWeibull.ts";
import { type LifeInput, lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { failed, found, running } from "../../support/estimation/found.ts";

const fixed = (lives: readonly LifeInput[], shape: number) =>
  fixedShapeWeibull(lifeSample({ unit: "h", lives }), shape);

// By hand: total = 20 * 500^2 = 5e6 and chi-square(0.9; 2) = -2 log 0.1, so scale >= sqrt(5e6 / log 10) = 1473.6.
test("no failure in 20 units run 500 h, shape 2: life at least 1,474 h with 90 % confidence, no estimate, no upper end", () => {
  const fit = fixed([{ lower: 500, upper: null, count: 20 }], 2);
  expect([fit.failures, fit.scale, fit.logLikelihood]).toEqual([0, null, null]);
  const bounds = fixedShapeBounds(fit, { kind: "scale" }, 0.9);
  expect(bounds.lower).toBeCloseTo(Math.sqrt(5e6 / Math.LN10), 9);
  expect(Math.round(bounds.lower)).toBe(1474);
  expect(bounds.upper).toBeNull();
});

// Own units of 2.5 shape; expected with R 4.2.2, qchisq: scale 740.182742416919, lower 537.34907926093, upper 1104.8530560821,
// B10 lower 218.437734700622, one-sided 90 %.
test("three failures of ten, shape 2.5", () => {
  const fit = fixed([...failed(250, 400, 620), ...running(120, 300, 310, 410, 500, 500, 700)], 2.5);
  expect(fit.scale).toBeCloseTo(740.182742416919, 9);
  const scale = fixedShapeBounds(fit, { kind: "scale" }, 0.9);
  expect(scale.lower).toBeCloseTo(537.34907926093, 9);
  expect(scale.upper).toBeCloseTo(1104.8530560821, 9);
  const b10 = fixedShapeBounds(fit, { kind: "quantile", failedFraction: 0.1 }, 0.9);
  expect(b10.lower).toBeCloseTo(218.437734700622, 9);
});

test("fixed at the estimate's own shape it gives the estimate's scale and log likelihood, entries included", () => {
  const lives = [...failed(50, 80, 120), ...running(140), { lower: 130, upper: 130, entry: 60 }];
  const { fit } = found(lives);
  const same = fixed(lives, fit.shape);
  expect(same.scale).toBeCloseTo(fit.scale, 8);
  expect(same.logLikelihood).toBeCloseTo(fit.logLikelihood, 10);
});

test("lives between looks and a shape of 0 are refused by name", () => {
  expect(() => fixed([{ lower: 1, upper: 2 }], 2)).toThrowError(/unsupported-censoring/);
  expect(() => fixed(failed(10), 0)).toThrowError(/bad-setting.*shape/);
});
