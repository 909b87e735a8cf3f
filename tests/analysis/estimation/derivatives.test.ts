// Value against a second implementation, derivatives against differences of that value, for every kind of life.
import { describe, expect, test } from "vitest";
import { type LifeInput, lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { weibullLikelihood } from "../../../analysis/estimation/weibullLikelihood.ts";
import { slowLogLikelihood } from "../../support/estimation/slowWeibull.ts";

const kinds: Readonly<Record<string, LifeInput>> = {
  exact: { lower: 120, upper: 120 },
  right: { lower: 150, upper: null },
  left: { lower: 0, upper: 90 },
  interval: { lower: 60, upper: 130 },
  "narrow interval": { lower: 100, upper: 100.001 },
  "exact, left-truncated": { lower: 120, upper: 120, entry: 70 },
  "right, left-truncated": { lower: 150, upper: null, entry: 149 },
  "interval, left-truncated": { lower: 90, upper: 130, entry: 40 },
  "left from entry": { lower: 0, upper: 130, entry: 40 },
  counted: { lower: 60, upper: 130, count: 2.5 },
  "exact in a range": { lower: 80, lowerHigh: 160, upper: 80, upperHigh: 160 },
  "right in a range": { lower: 80, lowerHigh: 260, upper: null },
  "right in a range from 0": { lower: 0, lowerHigh: 260, upper: null },
  "left in a range": { lower: 0, upper: 50, upperHigh: 140 },
  "interval in ranges": { lower: 30, lowerHigh: 80, upper: 110, upperHigh: 160 },
  "interval in crossing ranges, left-truncated": { lower: 40, lowerHigh: 140, upper: 60, upperHigh: 180, entry: 20 },
};

describe.each(Object.entries(kinds))("%s", (_, life) => {
  const sample = lifeSample({ unit: "h", lives: [life] });
  const likelihood = weibullLikelihood(sample);
  const evaluate = (shape: number, level: number): Float64Array => {
    const out = new Float64Array(6);
    likelihood.evaluate(shape, level, out);
    return out;
  };
  const levelOf = (shape: number, scale: number): number => shape * (likelihood.center - Math.log(scale));

  test.each([
    [0.7, 200],
    [1, 90],
    [2.4, 150],
    [5, 110],
    [14, 100],
  ])("shape %d, scale %d", (shape, scale) => {
    const level = levelOf(shape, scale);
    const [value = 0, dShape = 0, dLevel = 0, shapeShape = 0, shapeLevel = 0, levelLevel = 0] = evaluate(shape, level);
    // The slow average is a midpoint rule of 4,000 steps; a narrow interval cancels eight digits in it.
    expect(Math.abs(value - slowLogLikelihood(sample, shape, scale))).toBeLessThan(2e-6);

    const h = 1e-3;
    const slope = (f: (x: number) => number): number => (f(-2 * h) - 8 * f(-h) + 8 * f(h) - f(2 * h)) / (12 * h);
    const closeTo = (analytic: number, numeric: number): void => {
      expect(Math.abs(analytic - numeric)).toBeLessThan(1e-7 * Math.max(1, Math.abs(analytic)));
    };
    closeTo(
      dShape,
      slope((x) => evaluate(shape + x, level)[0] ?? 0),
    );
    closeTo(
      dLevel,
      slope((x) => evaluate(shape, level + x)[0] ?? 0),
    );
    closeTo(
      shapeShape,
      slope((x) => evaluate(shape + x, level)[1] ?? 0),
    );
    closeTo(
      shapeLevel,
      slope((x) => evaluate(shape + x, level)[2] ?? 0),
    );
    closeTo(
      shapeLevel,
      slope((x) => evaluate(shape, level + x)[1] ?? 0),
    );
    closeTo(
      levelLevel,
      slope((x) => evaluate(shape, level + x)[2] ?? 0),
    );
  });
});

test("a steep law within wide ranges is averaged as finely as a gentle one", () => {
  const lives: LifeInput[] = [
    { lower: 336, lowerHigh: 366, upper: 336, upperHigh: 366 },
    { lower: 305, lowerHigh: 335, upper: null },
    { lower: 318, lowerHigh: 348, upper: 363, upperHigh: 393 },
    { lower: 0, lowerHigh: 400, upper: null },
    { lower: 289, lowerHigh: 319, upper: 337, upperHigh: 367 },
  ];
  const sample = lifeSample({ unit: "h", lives });
  const likelihood = weibullLikelihood(sample);
  const out = new Float64Array(6);
  const near = new Float64Array(6);
  for (const shape of [3, 20, 60, 200, 1000]) {
    const level = shape * (likelihood.center - Math.log(352));
    likelihood.evaluate(shape, level, out);
    expect(Math.abs((out[0] ?? 0) - slowLogLikelihood(sample, shape, 352))).toBeLessThan(2e-5);
    const h = 1e-4;
    likelihood.evaluate(shape, level + h, near);
    const ahead = near[0] ?? 0;
    likelihood.evaluate(shape, level - h, near);
    expect((ahead - (near[0] ?? 0)) / (2 * h)).toBeCloseTo(out[2] ?? 0, 5);
  }
});

test("far tails neither overflow nor turn into NaN", () => {
  const lives = Object.values(kinds);
  const likelihood = weibullLikelihood(lifeSample({ unit: "h", lives }));
  const out = new Float64Array(6);
  for (const shape of [1e-6, 0.1, 3, 50, 2000]) {
    for (const level of [-2000, -700, -30, 0, 30, 700, 2000]) {
      likelihood.evaluate(shape, level, out);
      expect(Number.isNaN(out[0])).toBe(false);
      expect(out[0]).toBeLessThan(Number.POSITIVE_INFINITY);
      if (Number.isFinite(out[0])) expect([...out].every(Number.isFinite)).toBe(true);
    }
  }
});
