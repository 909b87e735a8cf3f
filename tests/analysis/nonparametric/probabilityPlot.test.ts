import { expect, test } from "vitest";
import { probabilityPlot, turnbull } from "../../../analysis/nonparametric/index.ts";
import { randomLives } from "../../support/nonparametric/randomLives.ts";
import { rowsOf, sampleOf } from "../../support/nonparametric/sampleOf.ts";

// Complete data: (i - 1/2) / n, Hazen (1914).
test("complete lives stand at (i - 1/2) / n", () => {
  const points = probabilityPlot(sampleOf(rowsOf("10 30 20 40 50")));
  expect(points.map((point) => [point.low, point.high])).toEqual([
    [10, 10],
    [20, 20],
    [30, 30],
    [40, 40],
    [50, 50],
  ]);
  points.forEach((point, i) => {
    expect(point.failedFraction).toBeCloseTo((i + 0.5) / 5, 14);
  });
  expect(points.map((point) => point.lifeIds)).toEqual([["life 1"], ["life 3"], ["life 2"], ["life 4"], ["life 5"]]);
});

// By hand: S = 3/4 after 1, 5/8 after 4, 1/2 after 5, 1/3 after 9, 0 after 22; middles of the steps.
test("right-censored lives by hand: the middle of each product-limit step", () => {
  const points = probabilityPlot(sampleOf(rowsOf("1 1 4 5 6+ 9 9+ 22")));
  [1 / 8, 5 / 16, 7 / 16, 7 / 12, 5 / 6].forEach((fraction, at) => {
    expect(points[at]?.failedFraction).toBeCloseTo(fraction, 14);
  });
  expect(points[0]?.lifeIds).toEqual(["life 1", "life 2"]);
});

test("between two looks: a bar from look to look, with every life that may have failed there", () => {
  const points = probabilityPlot(sampleOf(rowsOf("0~100 100~200 100~200 200+")));
  expect(points.map(({ low, high, lifeIds }) => ({ low, high, lifeIds }))).toEqual([
    { low: 0, high: 100, lifeIds: ["life 1"] },
    { low: 100, high: 200, lifeIds: ["life 2", "life 3"] },
  ]);
  expect(points[0]?.failedFraction).toBeCloseTo(1 / 8, 10);
  expect(points[1]?.failedFraction).toBeCloseTo(1 / 2, 10);
});

test("nothing failed: no points", () => {
  expect(probabilityPlot(sampleOf(rowsOf("5+ 9+")))).toEqual([]);
});

test("fractions rise, stay inside (0, 1), and no failed life is without a place", () => {
  for (let seed = 0; seed < 20; seed += 1) {
    const rows = randomLives(seed, { lives: 40, last: 30, kinds: ["exact", "right", "left", "interval"] });
    const points = probabilityPlot(sampleOf(rows));
    points.forEach((point, at) => {
      expect(point.failedFraction).toBeGreaterThan(points[at - 1]?.failedFraction ?? 0);
      expect(point.failedFraction).toBeLessThan(1);
    });
    const placed = new Set(points.flatMap((point) => point.lifeIds));
    const failed = rows.flatMap((row, i) => (row.upper === null ? [] : [`life ${i + 1}`]));
    expect([...placed].sort()).toEqual(failed.sort());
    expect(points).toHaveLength(turnbull(sampleOf(rows)).intervals.filter((interval) => interval.high !== null).length);
  }
});

test("a curve that has come down to 0 places nothing after it", () => {
  const rows = [
    { lower: 12, upper: 12, entry: 10 },
    { lower: 120, upper: 120, entry: 100 },
    { lower: 130, upper: null, entry: 100 },
  ];
  expect(probabilityPlot(sampleOf(rows)).map((point) => point.low)).toEqual([12]);
});
