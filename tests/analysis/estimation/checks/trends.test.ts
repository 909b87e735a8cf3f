import { expect, test } from "vitest";
import { randomStream } from "../../../../analysis/estimation/bootstrap/randomStream.ts";
import { driftBetweenPeriods } from "../../../../analysis/estimation/checks/driftBetweenPeriods.ts";
import { renewalCheck } from "../../../../analysis/estimation/checks/renewalCheck.ts";
import { trendOfLife } from "../../../../analysis/estimation/checks/trendOfLife.ts";
import { compareGroups } from "../../../../analysis/estimation/groups/compareGroups.ts";
import { ratioOfLives } from "../../../../analysis/estimation/groups/ratioOfLives.ts";
import { type LifeInput, lifeSample } from "../../../../analysis/estimation/lifeSample.ts";
import { logRank } from "../../../../analysis/nonparametric/logRank.ts";
import { failed, running } from "../../../support/estimation/found.ts";
import { randomLives, weibullAge } from "../../../support/estimation/randomLives.ts";

const sampleOf = (lives: readonly LifeInput[]) => lifeSample({ unit: "h", lives });

test("with two scores the trend is the ratio of lives at a common shape, with its bounds and its test", () => {
  const [a, b] = [randomLives(31, 25, "exact and right").slice(1), randomLives(32, 30, "between looks").slice(1)];
  const trend = trendOfLife(sampleOf([...a, ...b]), [...a.map(() => 3), ...b.map(() => 5)], 0.9);
  const ratio = ratioOfLives(sampleOf(b), sampleOf(a), { confidence: 0.9, shapes: "common" });
  if (trend.maximum !== "found" || ratio.maximum !== "found") throw new Error("no maximum");
  expect(trend.factor ** 2 / ratio.value).toBeCloseTo(1, 5);
  expect(trend.lower! ** 2 / ratio.lower!).toBeCloseTo(1, 5);
  expect(trend.upper! ** 2 / ratio.upper!).toBeCloseTo(1, 5);
  expect(trend.statistic).toBeCloseTo(ratio.equalLives.statistic, 6);
});

/** Lives of the first to the sixth redress of 40 tools, each 10 % shorter than the one before where `factor` is 0.9. */
function redresses(seed: number, factor: number): { lives: LifeInput[]; ordinal: number[] } {
  const random = randomStream(seed);
  const lives: LifeInput[] = [];
  const ordinal: number[] = [];
  for (let tool = 0; tool < 40; tool++) {
    for (let nth = 1; nth <= 6; nth++) {
      const age = weibullAge(random.uniform, 2, 300 * factor ** (nth - 1));
      lives.push(age < 250 ? { lower: age, upper: age } : { lower: 250, upper: null });
      ordinal.push(nth);
    }
  }
  return { lives, ordinal };
}

test("redresses that last 10 % shorter each time are told, with the factor; the rank test of trend agrees in size", () => {
  const { lives, ordinal } = redresses(2, 0.9);
  const sample = sampleOf(lives);
  const check = renewalCheck(sample, ordinal, 0.9);
  if (check.trend?.maximum !== "found") throw new Error("no trend");
  expect(check.trend.lower! < 0.9 && 0.9 < check.trend.upper!).toBe(true);
  expect(check.trend.pValue).toBeLessThan(0.001);
  expect(check.tenthOverFirst!.value).toBeCloseTo(check.trend.factor ** 9, 12);
  const ranks = logRank(sample, {
    group: ordinal.map(String),
    scores: Object.fromEntries([1, 2, 3, 4, 5, 6].map((nth) => [String(nth), nth])),
  });
  expect(check.trend.statistic / ranks.trend!.chiSquare).toBeGreaterThan(0.6);
  expect(check.trend.statistic / ranks.trend!.chiSquare).toBeLessThan(1.7);
  expect(check.strata.map(({ lives: count }) => count)).toEqual([40, 40, 40, 120]);
  expect(check.comparison!.groups.map(({ name }) => name)).toEqual(["1", "2", "3", "4+"]);
});

test("redresses that renew show no trend", () => {
  const { lives, ordinal } = redresses(5, 1);
  const check = renewalCheck(sampleOf(lives), ordinal, 0.9);
  if (check.trend?.maximum !== "found") throw new Error("no trend");
  expect(check.trend.pValue).toBeGreaterThan(0.05);
  expect(check.trend.lower! < 1 && 1 < check.trend.upper!).toBe(true);
});

test("under no trend p is uniform: of 120 shops one in ten lies below 0.1", () => {
  let below = 0;
  for (let seed = 0; seed < 120; seed++) {
    const random = randomStream(seed);
    const ages = Array.from({ length: 24 }, () => weibullAge(random.uniform, 1.6, 100));
    const trend = trendOfLife(
      sampleOf(failed(...ages)),
      ages.map((_, i) => i % 6),
      0.9,
    );
    if (trend.maximum === "found" && trend.pValue < 0.1) below++;
  }
  // Three Monte Carlo errors 0.086, and the small-sample excess of a likelihood ratio.
  expect(Math.abs(below / 120 - 0.11)).toBeLessThan(0.086);
});

test("all first redresses: no trend and no strata to compare; a trend without end is said", () => {
  const one = renewalCheck(sampleOf(failed(10, 20, 30)), [1, 1, 1], 0.9);
  expect([one.trend, one.comparison, one.tenthOverFirst]).toEqual([null, null, null]);
  const open = trendOfLife(sampleOf([...failed(10, 20, 30), ...running(25, 28, 30)]), [1, 1, 1, 2, 2, 2], 0.9);
  expect(open.maximum).toBe("scale not bounded");
  expect(() => renewalCheck(sampleOf(failed(10, 20)), [0, 1], 0.9)).toThrowError(/ordinal/);
  expect(() => trendOfLife(sampleOf(failed(10, 20)), [1, 1], 0.9)).toThrowError(/score/);
});

test("drift compares lives restored before a date with those restored on it or later", () => {
  const lives = [...randomLives(31, 25, "exact and right").slice(1), ...randomLives(32, 30, "between looks").slice(1)];
  const dates = lives.map((_, i) => (i < 24 ? "2023-11-30" : i === 24 ? "2024-01-01" : "2024-05-17"));
  const drift = driftBetweenPeriods(sampleOf(lives), dates, "2024-01-01", 0.9);
  if (!drift.isComparable) throw new Error(drift.empty);
  const same = compareGroups([
    { name: "before", sample: sampleOf(lives.slice(0, 24)) },
    { name: "from", sample: sampleOf(lives.slice(24)) },
  ]);
  expect(drift.comparison).toEqual(same);
  expect(drift.b10Ratio.maximum).toBe("found");
  expect(driftBetweenPeriods(sampleOf(lives), dates, "2020-01-01", 0.9)).toMatchObject({ empty: "before" });
});
