// Simulated studies with their Monte Carlo error; a formula for power that holds for many exponential lives; laws.
import { describe, expect, test } from "vitest";
import { normalCdf, normalQuantile } from "../../../analysis/numerics/index.ts";
import { falseCoverage } from "../../../analysis/practice/comparisons/falseCoverage.ts";
import type { AssumedLives } from "../../../analysis/practice/power/drawLives.ts";
import { powerBySimulation } from "../../../analysis/practice/power/powerBySimulation.ts";
import { manyTimes, sizeForPower } from "../../../analysis/practice/power/sizeForPower.ts";
import { uniforms } from "../../support/estimation/randomLives.ts";
import { designOf } from "../../support/practice/randomRegression.ts";

describe("intervals of effects that were picked", () => {
  test("of the intervals shown at most the stated share misses, where plain ones miss far more", () => {
    const random = uniforms(77);
    const [effects, studies, level] = [20, 2_000, 0.1];
    const missed = { adjusted: 0, plain: 0 };
    for (let study = 0; study < studies; study++) {
      const truth = Array.from({ length: effects }, (_, j) => (j < 3 ? 2 : 0));
      const seen = truth.map((value) => value + normalQuantile(random()));
      const { isSelected, selected, confidence } = falseCoverage(
        seen.map((z) => 2 * normalCdf(-Math.abs(z))),
        level,
      );
      const misses = (confidenceUsed: number) => {
        const width = -normalQuantile(0.5 * (1 - confidenceUsed));
        return seen.filter((z, j) => isSelected[j] && Math.abs(z - truth[j]!) > width).length / selected;
      };
      if (confidence === null) continue;
      missed.adjusted += misses(confidence) / studies;
      missed.plain += misses(1 - level) / studies;
    }
    // Standard deviation of a study's share is at most 1/2.
    const error = 0.5 / Math.sqrt(studies);
    expect(missed.adjusted).toBeLessThan(level + 3 * error);
    expect(missed.plain).toBeGreaterThan(level + 3 * error);
  });

  test("all picked: the stated confidence; one of twenty: as for twenty at once; none: no interval", () => {
    expect(falseCoverage([0.001, 0.002], 0.1).confidence).toBeCloseTo(0.9, 12);
    expect(falseCoverage([1e-6, ...new Array<number>(19).fill(0.9)], 0.1)).toMatchObject({
      selected: 1,
      confidence: 0.995,
    });
    expect(falseCoverage([0.5, 0.9], 0.1)).toMatchObject({ selected: 0, confidence: null, isSelected: [false, false] });
    expect(() => falseCoverage([0.5], 1)).toThrow(/false discovery rate/);
  });
});

describe("power by simulation", () => {
  const lives = 80;
  const assumed: AssumedLives = {
    unit: "h",
    design: designOf(
      ["worn"],
      Array.from({ length: lives }, (_, i) => [i % 2]),
    ),
    law: "exponential",
    intercept: Math.log(200),
    coefficients: [-0.7],
    spread: 1,
    followedTo: new Float64Array(lives).fill(1e6),
    lookEvery: null,
  };

  test("of exponential lives all seen to fail it is that of the normal law of a log ratio of means", () => {
    const { power, meanFailures } = powerBySimulation({ assumed, column: "worn", runs: 1_000, seed: 3 });
    // Variance of the log ratio 1/40 + 1/40; two-sided at 5 %: P(Z > 1.96 - 0.7 / sqrt(0.05)) = 0.8794.
    const expected = normalCdf(0.7 / Math.sqrt(0.05) - normalQuantile(0.975));
    expect(meanFailures).toBe(lives);
    expect(Math.abs(power.value - expected)).toBeLessThan(3 * Math.sqrt((expected * (1 - expected)) / 1_000) + 0.01);
  });

  test("without an effect the share told is the level", () => {
    const { power } = powerBySimulation({
      assumed: { ...assumed, coefficients: [0] },
      column: "worn",
      level: 0.1,
      runs: 1_000,
      seed: 4,
    });
    expect(Math.abs(power.value - 0.1)).toBeLessThan(3 * Math.sqrt(0.09 / 1_000) + 0.01);
  });

  test("the same seed gives the same answer; fewer failures and looks cost power; tools named are tested by cluster", () => {
    const run = (more: Partial<AssumedLives>) =>
      powerBySimulation({ assumed: { ...assumed, ...more }, column: "worn", runs: 200, seed: 5 });
    expect(run({})).toEqual(run({}));
    const short = run({ followedTo: new Float64Array(lives).fill(40) });
    expect(short.meanFailures).toBeLessThan(30);
    expect(short.power.value).toBeLessThan(run({}).power.value);
    const clusters = Array.from({ length: lives }, (_, i) => `T-${Math.floor(i / 4)}`);
    const byTool = run({ law: "weibull", lookEvery: 50, clusters, frailtyVariance: 0.5 });
    expect(byTool.method).toBe("likelihood ratio, scaled by tool");
    expect(byTool.power.value).toBeLessThan(run({}).power.value);
  });

  test("lives that came under observation late fail from there on, as often as the law says", () => {
    const entry = new Float64Array(lives).fill(100);
    const late = { ...assumed, coefficients: [0], entry, followedTo: new Float64Array(lives).fill(200) };
    const { meanFailures } = powerBySimulation({ assumed: late, column: "worn", runs: 400, seed: 8 });
    // Exponential, mean 200: of those sound at 100 the share 1 - exp(-1/2) fails by 200.
    const share = 1 - Math.exp(-0.5);
    expect(Math.abs(meanFailures / lives - share)).toBeLessThan(3 * Math.sqrt((share * (1 - share)) / (400 * lives)));
    expect(() =>
      powerBySimulation({ assumed: { ...late, followedTo: entry }, column: "worn", runs: 5, seed: 1 }),
    ).toThrow(/entry/);
  });

  test("sets without a maximum are counted as not told; what does not fit is refused", () => {
    const rare = powerBySimulation({
      assumed: { ...assumed, followedTo: new Float64Array(lives).fill(1) },
      column: "worn",
      runs: 50,
      seed: 6,
    });
    expect(rare.withoutMaximum).toBeGreaterThan(25);
    expect(rare.power.value).toBeLessThan(0.2);
    expect(() => powerBySimulation({ assumed, column: "torque", runs: 5, seed: 1 })).toThrow(/torque/);
    expect(() =>
      powerBySimulation({ assumed: { ...assumed, frailtyVariance: 1 }, column: "worn", runs: 5, seed: 1 }),
    ).toThrow(/frailty/);
  });
});

describe("size for a power", () => {
  const tools = 40;
  const lives = 3 * tools;
  const tool = Array.from({ length: lives }, (_, i) => `T-${Math.floor(i / 3)}`);
  const assumed = {
    unit: "h",
    design: designOf(
      ["worn"],
      tool.map((_, i) => [i % 2]),
    ),
    law: "weibull" as const,
    intercept: Math.log(200),
    coefficients: [-Math.LN2],
    spread: 1,
    followedTo: new Float64Array(lives).fill(100),
    lookEvery: null,
    clusters: tool,
  };
  const ask = (more: Partial<Parameters<typeof sizeForPower>[0]> = {}) =>
    sizeForPower({ assumed, column: "worn", level: 0.05, power: 0.8, runs: 300, seed: 21, ...more });

  /** Schoenfeld (1983), Biometrics 39, 499-503: failures to tell a hazard ratio between equal groups. */
  const byFormula = (level: number, power: number) =>
    (normalQuantile(1 - level / 2) + normalQuantile(power)) ** 2 / (0.25 * Math.LN2 ** 2);

  test("to tell a hazard ratio of 2 between equal groups takes 66 failures by the formula, and about as many simulated", () => {
    expect(byFormula(0.05, 0.8)).toBeCloseTo(65.34, 1);
    const { failures, times, now } = ask();
    expect(failures! / byFormula(0.05, 0.8)).toBeGreaterThan(0.85);
    expect(failures! / byFormula(0.05, 0.8)).toBeLessThan(1.25);
    expect(now.power.value < 0.8).toBe(times! > 1);
    const strict = ask({ level: 0.001 });
    expect(strict.failures! / byFormula(0.001, 0.8)).toBeGreaterThan(0.85);
    expect(strict.failures! / byFormula(0.001, 0.8)).toBeLessThan(1.25);
    expect(strict.confirmed?.power.lower).toBeLessThan(0.8);
    expect(strict.confirmed?.power.upper).toBeGreaterThan(0.8);
  });

  test("no effect has no size; a pattern said over keeps its tools apart", () => {
    expect(ask({ assumed: { ...assumed, coefficients: [0] }, seed: 22 })).toMatchObject({
      times: null,
      failures: null,
    });
    const twice = manyTimes(assumed, 2.5);
    expect(twice.design.rows).toBe(2.5 * lives);
    expect(new Set(twice.clusters).size).toBe(2.5 * tools);
    expect([...twice.design.values.slice(0, lives)]).toEqual([...assumed.design.values]);
  });
});
