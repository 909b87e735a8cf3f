// Laws: what must hold of any decision; the optimum itself is tested against closed forms in redressCycle.test.ts.
import { describe, expect, test } from "vitest";
import { allowedAge, nextRunChance } from "../../../analysis/decisions/allowedAge.ts";
import { decideInterval } from "../../../analysis/decisions/decideInterval.ts";
import { drawByLikelihood, drawConstantRate } from "../../../analysis/decisions/drawLaws.ts";
import { readLine } from "../../../analysis/decisions/readLine.ts";
import type { ModeLaw } from "../../../analysis/decisions/redressModel.ts";
import { randomStream } from "../../../analysis/estimation/bootstrap/randomStream.ts";

const evident = (shape: number, scale: number): ModeLaw => ({ kind: "evident", life: { shape, scale } });
const costs = { planned: 1, modes: [{ stops: 10, found: 0 }] };
const centre = [Math.log(2.2), Math.log(400)];
/** Shape and scale around 2.2 and 400 h, normal in their logarithms. */
const around = (spread: number, count = 60): ModeLaw[][] =>
  drawByLikelihood(
    centre,
    [
      [spread * spread, 0],
      [0, spread * spread],
    ],
    (at) => -0.5 * at.reduce((sum, one, place) => sum + ((one - centre[place]!) / spread) ** 2, 0),
    count,
    randomStream(7),
  ).map(([shape = 1, scale = 1]) => [evident(shape, scale)]);
const decide = (draws: ModeLaw[][]) =>
  decideInterval({ laws: [evident(2.2, 400)], draws, costs, longest: 500, confidence: 0.9 });

describe("what is not known", () => {
  test("without any doubt the recommended age is the optimum, and nothing is regretted", () => {
    const { recommended, optimalAge, payShare } = decide([[evident(2.2, 400)]]);
    expect(payShare).toBe(1);
    expect(Math.abs((recommended?.age ?? 0) - (optimalAge ?? 1e9))).toBeLessThan(500 / 240);
    expect(recommended?.regret.mean).toBeLessThan(1e-4);
  });

  test("more doubt: a wider range of the optimum, wider bands and more regret", () => {
    const [sure, unsure] = [decide(around(0.05)), decide(around(0.3))];
    const width = ({ optimumRange }: typeof sure) => (optimumRange ? optimumRange.upper - optimumRange.lower : 0);
    expect(width(unsure)).toBeGreaterThan(2 * width(sure));
    expect(unsure.recommended?.regret.mean).toBeGreaterThan(3 * (sure.recommended?.regret.mean ?? 1));
    const band = ({ costRate }: typeof sure) => (costRate.upper[100] ?? 0) - (costRate.lower[100] ?? 0);
    expect(band(unsure)).toBeGreaterThan(band(sure));
  });

  test("the flat region holds the optimum, and its ends cost 5 % more than the least", () => {
    const { recommended, optimalAge, age, costRate } = decide(around(0.05));
    const flat = recommended?.flat ?? { from: 0, to: 0 };
    expect(flat.from).toBeLessThan(optimalAge ?? 0);
    expect(flat.to).toBeGreaterThan(optimalAge ?? 1e9);
    const least = Math.min(...costRate.value);
    for (const end of [flat.from, flat.to]) {
      const there = readLine(age, costRate, end)?.value ?? 0;
      expect(there / least).toBeGreaterThan(1.035);
      expect(there / least).toBeLessThanOrEqual(1.05);
    }
  });

  test("draws of a constant rate have the mean of their gamma distribution, down to no failures", () => {
    for (const failures of [0, 4]) {
      const rates = drawConstantRate(failures, 10_000, 4_000, randomStream(3)).map(({ scale }) => 1 / scale);
      const mean = rates.reduce((sum, rate) => sum + rate, 0) / rates.length;
      const expected = (failures + 0.5) / 10_000;
      // Standard error of the mean: sqrt(failures + 1/2) / hours / sqrt(draws); four of them.
      expect(Math.abs(mean - expected)).toBeLessThan((4 * Math.sqrt(failures + 0.5)) / 10_000 / Math.sqrt(4_000));
    }
  });
});

test("draws by likelihood follow a likelihood that is far from normal: mean and spread of a gamma law of few failures", () => {
  // Two failures in 1,000 h of a constant rate, flat in its logarithm: the rate is gamma with shape 2 and mean 2 / 1,000 h.
  const logLikelihood = ([logRate = 0]: readonly number[]) => 2 * logRate - 1_000 * Math.exp(logRate);
  const rates = drawByLikelihood([Math.log(0.002)], [[0.5]], logLikelihood, 3_000, randomStream(5)).map(
    ([one = 0]) => one,
  );
  const mean = rates.reduce((sum, rate) => sum + rate, 0) / rates.length;
  const variance = rates.reduce((sum, rate) => sum + (rate - mean) ** 2, 0) / rates.length;
  expect(mean / 0.002).toBeCloseTo(1, 1);
  expect(variance / 0.000_002).toBeGreaterThan(0.85);
  expect(variance / 0.000_002).toBeLessThan(1.15);
});

describe("allowed chance", () => {
  // Trade example: shape 2, scale 400 h: a 100-h run is survived with 0.939 new, 0.779 after 150 h, 0.732 after 200 h.
  const running = Float64Array.from({ length: 601 }, (_, hours) => Math.exp(-((hours / 400) ** 2)));
  test("a 100-h run after 0, 150 and 200 h", () => {
    const chances = nextRunChance(running, 1, 100);
    expect([0, 150, 200].map((age) => Math.round(1000 * (1 - (chances[age] ?? 0))) / 1000)).toEqual([
      0.939, 0.779, 0.732,
    ]);
  });

  test("10 % in a 60-h run allow a start at no more than 110.5 h", () => {
    const chances = nextRunChance(running, 1, 60);
    const limit = allowedAge(
      chances.map((_, hours) => hours),
      chances,
      0.1,
    );
    // (a + 60)^2 - a^2 = -400^2 ln 0.9, so a = 110.48 h; the trade note rounds it up to 110.5.
    expect(limit.age).toBeCloseTo((160_000 * -Math.log(0.9) - 3_600) / 120, 2);
    expect(limit.beyondGrid).toBe(false);
  });

  test("too high from the start is no age; never too high is the end of the grid, and said", () => {
    expect(allowedAge([0, 10], [0.2, 0.3], 0.1)).toEqual({ age: null, beyondGrid: false });
    expect(allowedAge([0, 10], [0.01, 0.02], 0.1)).toEqual({ age: 10, beyondGrid: true });
  });
});

test("a line is read between its grid ages and not outside them", () => {
  const line = { value: [1, 2], lower: [0, 1], upper: [2, 4] };
  expect(readLine([10, 20, 30], line, 15)).toEqual({ value: 1.5, lower: 0.5, upper: 3 });
  expect(readLine([10, 20, 30], line, 25)).toBeNull();
  expect(readLine([10, 20, 30], line, 5)).toBeNull();
});
