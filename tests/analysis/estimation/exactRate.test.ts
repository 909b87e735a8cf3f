import { expect, test } from "vitest";
import { AnalysisError } from "../../../analysis/errors.ts";
import { exactRate } from "../../../analysis/estimation/exactRate.ts";
import { shrunkenRates } from "../../../analysis/estimation/shrunkenRates.ts";
import { poissonCdf } from "../../../analysis/numerics/index.ts";

const meanHours = (perThousand: number | null): number => 1000 / (perThousand ?? Number.NaN);

// NIST/SEMATECH e-Handbook 8.4.5.1, time-ended: mean T/r, lower 2T/chi2((1+C)/2; 2r+2), upper 2T/chi2((1-C)/2; 2r);
// recomputed: 1,600 h, 2 failures: 800 h (90 %: 254-4,502).
test("two failures in 1,600 h", () => {
  const rate = exactRate({ failures: 2, hours: 1600, confidence: 0.9 });
  expect(rate.value).toBe(1.25);
  expect(meanHours(rate.value)).toBe(800);
  expect(Math.round(meanHours(rate.upper))).toBe(254);
  expect(Math.round(meanHours(rate.lower))).toBe(4502);
  expect([rate.unit, rate.method, rate.confidence]).toEqual(["per 1,000 h", "exact Poisson", 0.9]);
});

// Same source: 5,000 h without a failure, at least T / -ln(0.1) = 2,171 h at 90 % one-sided, so two-sided 80 %.
test("no failures: rate and lower bound 0, the upper bound keeps the two-sided level", () => {
  const rate = exactRate({ failures: 0, hours: 5000, confidence: 0.8 });
  expect([rate.value, rate.lower, rate.why]).toEqual([0, 0, "no failures"]);
  expect(Math.round(meanHours(rate.upper))).toBe(2171);
  expect(rate.upper).toBeCloseTo((1000 * -Math.log(0.1)) / 5000, 12);
});

// Exponential confidence-interval start sheet (theriac.org DeskReference 214): 45 failures, total 4,497 h, ended by the
// last failure, two-sided 80 %: mean 83.606-122.711, chi2(90) 73.2911 and 107.5650. The printed total is rounded to a
// whole hour (4,496.5 to 4,497.5), which moves the bounds by 0.0136.
test("45 failures to the last one: the printed bounds of the mean", () => {
  const rate = exactRate({ failures: 45, hours: 4497, confidence: 0.8, endedBy: "failure" });
  expect(Math.abs(meanHours(rate.upper) - 83.606)).toBeLessThan(0.0142);
  expect(Math.abs(meanHours(rate.lower) - 122.711)).toBeLessThan(0.0142);
  expect(meanHours(rate.lower)).toBeCloseTo((2 * 4497) / 73.2911, 3);
  expect(meanHours(rate.upper)).toBeCloseTo((2 * 4497) / 107.565, 3);
});

// Garwood (1936), Biometrika 28, 437-442: 95 % limits of a Poisson mean by its count (table values from memory).
test.each([
  [0, 0, 3.689],
  [1, 0.0253, 5.572],
  [2, 0.242, 7.225],
  [3, 0.619, 8.767],
  [5, 1.623, 11.668],
  [10, 4.795, 18.39],
])("%i failures in 1,000 h, 95 %%: %d to %d", (failures, lower, upper) => {
  const rate = exactRate({ failures, hours: 1000, confidence: 0.95 });
  expect(Math.abs((rate.lower ?? Number.NaN) - lower)).toBeLessThanOrEqual(0.0005);
  expect(Math.abs((rate.upper ?? Number.NaN) - upper)).toBeLessThanOrEqual(0.0005);
});

test("the bounds are where the Poisson tails hold what is left of the confidence", () => {
  for (const failures of [1, 4, 17, 300]) {
    const { lower, upper } = exactRate({ failures, hours: 1000, confidence: 0.9 });
    expect(1 - poissonCdf(failures - 1, lower ?? Number.NaN)).toBeCloseTo(0.05, 10);
    expect(poissonCdf(failures, upper ?? Number.NaN)).toBeCloseTo(0.05, 10);
  }
});

test("no hours: no rate, and why", () => {
  expect(exactRate({ failures: 0, hours: 0 })).toEqual({
    value: null,
    lower: null,
    upper: null,
    confidence: 0.9,
    method: "none",
    unit: "per 1,000 h",
    why: "no hours",
  });
  expect(exactRate({ failures: 3, hours: 0 }).value).toBeNull();
});

test("ten times the hours divide rate and bounds by ten", () => {
  const [one, ten] = [400, 4000].map((hours) => exactRate({ failures: 3, hours }));
  for (const name of ["value", "lower", "upper"] as const) {
    expect((ten?.[name] ?? 0) * 10).toBeCloseTo(one?.[name] ?? Number.NaN, 12);
  }
});

test.each([
  { failures: -1, hours: 10 },
  { failures: 1.5, hours: 10 },
  { failures: 1, hours: -10 },
  { failures: 1, hours: Number.NaN },
  { failures: 1, hours: 10, confidence: 1 },
])("refused: %j", (input) => {
  expect(() => exactRate(input)).toThrowError(AnalysisError);
});

// By hand: 10/1000, 2/1000, 0/1000: m = 4/1000; s2 = (36 + 4 + 16)/3 = 56/3 (per 1,000 h squared); m/mean hours = 4:
// A = 44/3. Posterior means (x + m^2/A) / (1 + m/A) with m^2/A = 12/11 and m/A = 3/11: 122/14, 34/14, 12/14.
test("shrunken rates by hand", () => {
  const rates = shrunkenRates([
    { failures: 10, hours: 1000 },
    { failures: 2, hours: 1000 },
    { failures: 0, hours: 1000 },
  ]);
  [122 / 14, 34 / 14, 12 / 14].forEach((rate, at) => {
    expect(rates[at]).toBeCloseTo(rate, 12);
  });
});

test("fewer hours are drawn further towards the mean, and each rate stays between its own and the mean", () => {
  const rows = [
    { failures: 12, hours: 1000 },
    { failures: 40, hours: 10_000 },
    { failures: 3, hours: 250 },
    { failures: 0, hours: 5000 },
  ];
  const mean = (1000 * 55) / 16_250;
  const rates = shrunkenRates(rows);
  const share = rows.map(({ failures, hours }, at) => ((rates[at] ?? 0) - mean) / ((1000 * failures) / hours - mean));
  for (const part of share) expect(part).toBeGreaterThan(0);
  for (const part of share) expect(part).toBeLessThan(1);
  // Rows 0 and 2 have the same rate of 12 per 1,000 h, on 1,000 and 250 h.
  expect(share[2]).toBeLessThan(share[0] ?? 0);
});

test("no more spread than chance: all get the mean; nothing failed: all 0; no hours: the mean", () => {
  expect(shrunkenRates([5, 5, 5].map((failures) => ({ failures, hours: 1000 })))).toEqual([5, 5, 5]);
  expect(shrunkenRates([0, 0].map((failures) => ({ failures, hours: 1000 })))).toEqual([0, 0]);
  expect(shrunkenRates([])).toEqual([]);
  expect(
    shrunkenRates([{ failures: 0, hours: 0 }, ...[5, 5, 5].map((failures) => ({ failures, hours: 1000 }))])[0],
  ).toBe(5);
});

test("one or two modes cannot show a spread: one keeps its rate, two are drawn together by a prior worth one failure", () => {
  expect(shrunkenRates([{ failures: 4, hours: 2000 }])[0]).toBeCloseTo(2, 12);
  // m = 5/1000 h: (9 + 1) / (1,000 + 200) and (1 + 1) / (1,000 + 200).
  const [high, low] = shrunkenRates([9, 1].map((failures) => ({ failures, hours: 1000 })));
  expect(high).toBeCloseTo(10_000 / 1200, 12);
  expect(low).toBeCloseTo(2000 / 1200, 12);
});
