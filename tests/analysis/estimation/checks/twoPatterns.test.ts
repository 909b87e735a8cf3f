import { expect, test } from "vitest";
import { randomStream } from "../../../../analysis/estimation/bootstrap/randomStream.ts";
import { fitTwoPatterns } from "../../../../analysis/estimation/checks/fitTwoPatterns.ts";
import { twoPatternsTest } from "../../../../analysis/estimation/checks/twoPatternsTest.ts";
import type { LifeInput } from "../../../../analysis/estimation/lifeSample.ts";
import { climbNumerically } from "../../../../analysis/estimation/sensitivity/climbNumerically.ts";
import { failed, found } from "../../../support/estimation/found.ts";
import { weibullAge } from "../../../support/estimation/randomLives.ts";

/** Lives with an early fraction, looked at every 40 h or failing by themselves, followed to 500 h. */
function mixed(seed: number, n: number, earlyFraction: number, isBetweenLooks: boolean): LifeInput[] {
  const random = randomStream(seed);
  return Array.from({ length: n }, (): LifeInput => {
    const isEarly = random.uniform() < earlyFraction;
    const age = isEarly ? weibullAge(random.uniform, 1.2, 40) : weibullAge(random.uniform, 3, 400);
    if (age > 480) return { lower: 480, upper: null };
    const lower = Math.floor(age / 40) * 40;
    return isBetweenLooks ? { lower, upper: lower + 40 } : { lower: age, upper: age };
  });
}

/** The mixture's log likelihood straight from its definition. */
function slowMixture(lives: readonly LifeInput[], p: number, k1: number, s1: number, k2: number, s2: number): number {
  const survival = (age: number): number => p * Math.exp(-((age / s1) ** k1)) + (1 - p) * Math.exp(-((age / s2) ** k2));
  const density = (age: number, k: number, s: number): number =>
    (k / s) * (age / s) ** (k - 1) * Math.exp(-((age / s) ** k));
  return lives.reduce((sum, { lower, upper }) => {
    if (upper === null) return sum + Math.log(survival(lower));
    if (upper > lower) return sum + Math.log(survival(lower) - survival(upper));
    return sum + Math.log(p * density(lower, k1, s1) + (1 - p) * density(lower, k2, s2));
  }, 0);
}

test.each([false, true])(
  "two patterns (between looks: %s): the top agrees with Newton's method on the likelihood's definition",
  (isBetweenLooks) => {
    const lives = mixed(3, 250, 0.25, isBetweenLooks);
    const { sample, fit } = found(lives);
    const two = fitTwoPatterns(sample, fit, { gain: 1e-10, most: 5_000 });
    if (!two) throw new Error("no maximum");
    const { earlyFraction, early, main, logLikelihood } = two;
    const start = [
      Math.log(earlyFraction / (1 - earlyFraction)),
      ...[early.shape, early.scale, main.shape, main.scale].map(Math.log),
    ];
    const top = climbNumerically(
      ([logit = 0, k1 = 0, s1 = 0, k2 = 0, s2 = 0]) =>
        slowMixture(lives, 1 / (1 + Math.exp(-logit)), Math.exp(k1), Math.exp(s1), Math.exp(k2), Math.exp(s2)),
      start,
    );
    expect(logLikelihood).toBeCloseTo(top!.value, 5);
    expect(top!.at[1]! - start[1]!).toBeCloseTo(0, 2);
    // The truth: a quarter early around 40 h, the rest 3 / 400.
    expect(Math.abs(earlyFraction - 0.25)).toBeLessThan(0.1);
    expect(main.shape).toBeGreaterThan(2.3);
    expect(Math.abs(main.scale / 400 - 1)).toBeLessThan(0.1);
    expect(early.scale).toBeLessThan(80);
  },
);

test("an early fraction is told from one pattern", () => {
  const { sample, fit } = found(mixed(4, 120, 0.25, false));
  const { pValue, statistic } = twoPatternsTest(sample, fit, { seed: 1, simulations: 39 });
  expect(pValue).toBeLessThan(0.03);
  expect(statistic!).toBeGreaterThan(15);
});

test("one pattern is not taken for two: p below 0.2 about as often as it should", () => {
  let below = 0;
  for (let seed = 0; seed < 10; seed++) {
    const { sample, fit } = found(mixed(100 + seed, 30, 0, true));
    const { pValue } = twoPatternsTest(sample, fit, { seed, simulations: 19 });
    if (pValue !== null && pValue <= 0.2) below++;
  }
  // 2 of 10 expected; more than 5 by chance once in 150.
  expect(below).toBeLessThanOrEqual(5);
});

test("a pattern that gathers on one exact age is held at the steepest shape, and said", () => {
  const { sample, fit } = found(failed(20, 20, 20, 20, 150, 210, 260, 300, 340, 380, 450, 520));
  const { patterns, notices } = twoPatternsTest(sample, fit, { seed: 1, simulations: 19 });
  expect(patterns!.isOnTheEdge).toBe(true);
  expect(Math.max(patterns!.early.shape, patterns!.main.shape)).toBeLessThanOrEqual(15);
  expect(notices.map(({ code }) => code)).toContain("mixture-on-the-edge");
});

test("late entry and too few simulations are refused by name", () => {
  const late = found([...failed(10, 20, 40), { lower: 30, upper: 30, entry: 5 }]);
  expect(() => twoPatternsTest(late.sample, late.fit, { seed: 1 })).toThrowError(/unsupported-censoring/);
  const plain = found(failed(10, 20, 40));
  expect(() => twoPatternsTest(plain.sample, plain.fit, { seed: 1, simulations: 3 })).toThrowError(/simulations/);
});
