import { describe, expect, test } from "vitest";
import { AnalysisError } from "../../../analysis/errors.ts";
import { randomStream } from "../../../analysis/estimation/bootstrap/randomStream.ts";
import { lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { equalPrecisionBand, equalPrecisionCritical } from "../../../analysis/nonparametric/equalPrecisionBand.ts";
import { productLimit } from "../../../analysis/nonparametric/productLimit.ts";
import { normalQuantile } from "../../../analysis/numerics/index.ts";

const density = (x: number): number => Math.exp(-0.5 * x * x) / Math.sqrt(2 * Math.PI);

describe("the critical value", () => {
  // Miller & Siegmund (1982), Biometrics 38, 1011-1016: P(sup > x) is near 4 f(x) / x + f(x) (x - 1/x) length, f the normal
  // density, where that is small. Another way to the same tail.
  test.each([1, 2, 3, 4.4, 5.9])(
    "over a length of %d the tail by Miller and Siegmund is the one asked for, within 4 %%",
    (length) => {
      for (const confidence of [0.9, 0.95, 0.99]) {
        const c = equalPrecisionCritical(length, confidence);
        const tail = (4 * density(c)) / c + density(c) * (c - 1 / c) * length;
        expect(Math.abs(tail / (1 - confidence) - 1), `${confidence}`).toBeLessThan(0.04);
      }
    },
  );

  test("over hardly any length it is the normal quantile; it grows with length and with confidence", () => {
    expect(equalPrecisionCritical(1e-6, 0.95)).toBeCloseTo(normalQuantile(0.975), 1);
    const lengths = [0.5, 1, 2, 4, 8].map((length) => equalPrecisionCritical(length, 0.9));
    expect([...lengths].sort((a, b) => a - b)).toEqual(lengths);
    expect(equalPrecisionCritical(2, 0.95)).toBeGreaterThan(equalPrecisionCritical(2, 0.9));
  });

  test("a confidence out of range is refused by name", () => {
    for (const confidence of [0, 1, Number.NaN])
      expect(() => equalPrecisionCritical(1, confidence)).toThrow(AnalysisError);
  });
});

const exponential = (uniform: number): number => -Math.log(1 - uniform);
const simulate = (n: number, random: ReturnType<typeof randomStream>) =>
  lifeSample({
    unit: "h",
    lives: Array.from({ length: n }, () => {
      const [failure, end] = [100 * exponential(random.uniform()), 20 + 200 * random.uniform()];
      return failure <= end ? { lower: failure, upper: failure } : { lower: end, upper: null };
    }),
  });

test("the band is wider than the bounds at each age, around the same steps, and null where nothing survives", () => {
  const curve = productLimit(simulate(80, randomStream(4)), { confidence: 0.9, bounds: "log-log" });
  const band = equalPrecisionBand(curve, 0.9);
  expect(band?.critical).toBeGreaterThan(normalQuantile(0.95));
  expect(band?.fromAge).toBe(curve.steps[0]?.time);
  curve.steps.forEach((step, i) => {
    const held = band?.steps[i];
    if (!held || step.lower === null || step.upper === null) return;
    expect(held.lower).toBeLessThan(step.lower);
    expect(held.upper).toBeGreaterThan(step.upper);
    expect(held.lower).toBeLessThan(step.survival);
  });
  const all = productLimit(lifeSample({ unit: "h", lives: [10, 20, 30].map((age) => ({ lower: age, upper: age })) }));
  expect(equalPrecisionBand(all, 0.9)?.steps.at(-1)).toBeNull();
  expect(
    equalPrecisionBand(
      productLimit(
        lifeSample({
          unit: "h",
          lives: [
            { lower: 5, upper: 5 },
            { lower: 9, upper: null },
          ],
        }),
      ),
      0.9,
    ),
  ).toBeNull();
});

// 400 samples of 120 lives, censored: the whole true curve lies within a 90 % band about nine times in ten (three Monte Carlo errors of
// 1.5 % each), while bounds at each age by themselves hold the whole curve far less often.
test("the band holds the whole curve as often as it says; pointwise bounds do not", () => {
  const random = randomStream(11);
  const samples = 400;
  let [held, pointwise] = [0, 0];
  for (let i = 0; i < samples; i++) {
    const curve = productLimit(simulate(120, random), { confidence: 0.9, bounds: "log-log" });
    const band = equalPrecisionBand(curve, 0.9);
    const within = (
      ends: readonly ({ readonly lower: number | null; readonly upper: number | null } | null | undefined)[],
    ): boolean =>
      curve.steps.every(({ time }, step) => {
        const here = ends[step];
        const next = curve.steps[step + 1]?.time ?? time;
        if (!here || here.lower === null || here.upper === null) return true;
        return Math.exp(-time / 100) <= here.upper + 1e-12 ? Math.exp(-next / 100) >= here.lower - 1e-12 : false;
      });
    if (within(band?.steps ?? [])) held++;
    if (within(curve.steps)) pointwise++;
  }
  expect(held / samples).toBeGreaterThan(0.845);
  expect(held / samples).toBeLessThan(0.96);
  expect(pointwise / samples).toBeLessThan(0.7);
});
