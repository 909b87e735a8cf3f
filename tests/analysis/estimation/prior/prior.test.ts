import { expect, test } from "vitest";
import { fixedShapeBounds, fixedShapeWeibull } from "../../../../analysis/estimation/fixedShapeWeibull.ts";
import { type LifeInput, lifeSample } from "../../../../analysis/estimation/lifeSample.ts";
import { answerWithPrior } from "../../../../analysis/estimation/prior/answerWithPrior.ts";
import {
  gammaLevelDensity,
  logExposure,
  numericLevelDensity,
} from "../../../../analysis/estimation/prior/levelDensity.ts";
import { posteriorBelow, posteriorReading } from "../../../../analysis/estimation/prior/posteriorReading.ts";
import { shapePosterior } from "../../../../analysis/estimation/prior/shapePosterior.ts";
import { priorDensity, shapePrior } from "../../../../analysis/estimation/prior/shapePrior.ts";
import { weibullBounds } from "../../../../analysis/estimation/profileBounds.ts";
import { weibullLikelihood } from "../../../../analysis/estimation/weibullLikelihood.ts";
import { transformedQuantity, type WeibullQuantity } from "../../../../analysis/estimation/weibullQuantity.ts";
import { failed, found, running } from "../../../support/estimation/found.ts";
import { randomLives } from "../../../support/estimation/randomLives.ts";
import { slowLogLikelihood } from "../../../support/estimation/slowWeibull.ts";

const sampleOf = (lives: readonly LifeInput[]) => lifeSample({ unit: "h", lives });
const quantities: readonly WeibullQuantity[] = [
  { kind: "shape" },
  { kind: "scale" },
  { kind: "quantile", failedFraction: 0.1 },
  { kind: "survival", age: 150 },
  { kind: "mean" },
];

// Normal table: 90 % lies within 1.6449 standard deviations.
test("a prior between 1.2 and 4, 90 % sure: log shape is normal around the root of the product", () => {
  const prior = shapePrior(1.2, 4);
  expect(Math.exp(prior.mean)).toBeCloseTo(Math.sqrt(4.8), 12);
  expect(prior.spread).toBeCloseTo(Math.log(4 / 1.2) / (2 * 1.644854), 6);
  let inside = 0;
  for (let i = 0; i < 2_000; i++) inside += (priorDensity(prior, 1.2 + ((i + 0.5) / 2_000) * 2.8) * 2.8) / 2_000;
  expect(inside).toBeCloseTo(0.9, 6);
});

const few: LifeInput[] = [...failed(120, 210, 260), ...running(90, 150, 220, 300)];
const looks: LifeInput[] = [
  { lower: 100, upper: 160 },
  { lower: 150, upper: 240 },
  { lower: 0, upper: 130 },
  ...running(140, 200, 260),
];

/** Likelihood, prior of the shape and dM = M d(level) on a fine grid of log shape and log scale, in plain sums. */
function slowPosterior(lives: readonly LifeInput[]): (quantity: WeibullQuantity, u: number) => number {
  const sample = sampleOf(lives);
  const prior = shapePrior(1.2, 4);
  const points: { shape: number; scale: number; weight: number }[] = [];
  for (let i = 0; i < 200; i++) {
    const shape = Math.exp(prior.mean + prior.spread * (-5 + (10 * (i + 0.5)) / 200));
    for (let j = 0; j < 700; j++) {
      const scale = Math.exp(Math.log(60) + ((j + 0.5) / 700) * Math.log(1e5 / 60));
      let expected = 0;
      for (const { lower, upper } of lives) {
        expected += ((upper === null ? lower : 0.5 * (lower + upper)) / scale) ** shape;
      }
      // d level = shape d log scale, d shape = shape d log shape.
      const likelihood = Math.exp(slowLogLikelihood(sample, shape, scale) + 30);
      const weight = likelihood * expected * shape * shape * priorDensity(prior, shape);
      if (weight > 0) points.push({ shape, scale, weight });
    }
  }
  const all = points.reduce((sum, { weight }) => sum + weight, 0);
  return (quantity, u) =>
    points.reduce((sum, point) => sum + (transformedQuantity(quantity, point).value <= u ? point.weight : 0), 0) / all;
}

test.each([
  ["exact and right-censored lives", few],
  ["lives between looks", looks],
] as const)("%s: the posterior agrees with a plain sum over shape and scale", (_, lives) => {
  const posterior = shapePosterior(sampleOf(lives), shapePrior(1.2, 4));
  const slow = slowPosterior(lives);
  // On the edges of the cells of the plain sum, where these run along the quantity.
  const prior = shapePrior(1.2, 4);
  const scaleEdge = (cell: number): number => Math.log(60) + (cell / 700) * Math.log(1e5 / 60);
  const places = {
    shape: [prior.mean, prior.mean + prior.spread],
    scale: [scaleEdge(140), scaleEdge(180)],
    quantile: [4.6, 5],
    survival: [-1.5, -0.7],
    mean: [5, 5.6],
  };
  for (const quantity of quantities) {
    for (const u of places[quantity.kind]) {
      const difference = Math.abs(posteriorBelow(posterior, quantity, u) - slow(quantity, u));
      expect(difference).toBeLessThan(0.003);
    }
  }
});

// M^(r + 1) exp(-M) is gamma: with exact lives the numeric density has a closed form to be compared to.
test("the numeric density of the level agrees with the gamma law it has for exact lives", () => {
  const sample = sampleOf(few);
  const likelihood = weibullLikelihood(sample);
  for (const shape of [0.7, 2, 6]) {
    const exposure = logExposure(sample, likelihood.center, shape);
    const [numeric, exact] = [
      numericLevelDensity(likelihood, shape, exposure, false),
      gammaLevelDensity(0, 3, exposure),
    ];
    for (const expected of [0.05, 0.5, 2, 4, 7, 12]) {
      const level = Math.log(expected) - exposure;
      expect(Math.abs(numeric.below(level) - exact.below(level))).toBeLessThan(1e-5);
    }
  }
});

test("without a failure the posterior of the shape is its prior, and life is bounded below", () => {
  const sample = sampleOf(running(300, 420, 500, 500, 610));
  const prior = shapePrior(1.5, 3);
  const posterior = shapePosterior(sample, prior);
  posterior.curves.shape.forEach((shape, i) => {
    const expected = priorDensity(prior, shape);
    expect(Math.abs(posterior.curves.posterior[i]! - expected)).toBeLessThan(1e-6 + 1e-5 * expected);
  });
  const shape = posteriorReading(posterior, { kind: "shape" }, 0.9);
  expect(shape.lower).toBeCloseTo(1.5, 3);
  expect(shape.upper).toBeCloseTo(3, 3);
  const b10 = posteriorReading(posterior, { kind: "quantile", failedFraction: 0.1 }, 0.8);
  const ends = [1.5, 3].map(
    (fixed) => fixedShapeBounds(fixedShapeWeibull(sample, fixed), { kind: "quantile", failedFraction: 0.1 }, 0.9).lower,
  );
  expect(b10.lower > Math.min(...ends) && b10.lower < Math.max(...ends)).toBe(true);
  expect(posterior.notices).toEqual([{ code: "prior-decides", facts: { failures: 0 } }]);
});

test.each([
  ["no failure", running(300, 420, 500, 500, 610)],
  ["three failures", few],
] as const)("%s: as the prior narrows, lower bounds become the chi-square bounds of a fixed shape", (_, lives) => {
  const sample = sampleOf(lives);
  const posterior = shapePosterior(sample, shapePrior(2 - 1e-5, 2 + 1e-5));
  for (const quantity of [{ kind: "scale" }, { kind: "quantile", failedFraction: 0.1 }] as const) {
    const expected = fixedShapeBounds(fixedShapeWeibull(sample, 2), quantity, 0.95).lower;
    expect(posteriorReading(posterior, quantity, 0.9).lower / expected).toBeCloseTo(1, 5);
  }
});

test("with many failures and a wide prior the bounds come near those of the likelihood ratio", () => {
  for (const mix of ["exact and right", "between looks", "everything"] as const) {
    const { sample, fit } = found(randomLives(14, 150, mix).slice(1));
    const posterior = shapePosterior(sample, shapePrior(0.3, 12));
    for (const quantity of quantities) {
      const reading = posteriorReading(posterior, quantity, 0.9);
      const { lower, upper } = weibullBounds(fit, sample, quantity, 0.9);
      const width = Math.log(upper! / lower!);
      expect(Math.abs(Math.log(reading.lower / lower!))).toBeLessThan(0.1 * width);
      expect(Math.abs(Math.log(reading.upper / upper!))).toBeLessThan(0.1 * width);
    }
    expect(posterior.notices).toEqual([]);
  }
});

test("ages in days: shape as before, lives a 24th, for every kind of life", () => {
  for (const lives of [few, looks, randomLives(2, 12, "everything").slice(1)]) {
    const divided = lives.map(
      ({ lower, upper, entry = 0, lowerHigh, upperHigh }): LifeInput => ({
        lower: lower / 24,
        upper: upper === null ? null : upper / 24,
        entry: entry / 24,
        ...(lowerHigh === undefined ? {} : { lowerHigh: lowerHigh / 24 }),
        ...(upperHigh == null ? {} : { upperHigh: upperHigh / 24 }),
      }),
    );
    const [hours, days] = [lives, divided].map((some) => shapePosterior(sampleOf(some), shapePrior(1, 3)));
    const read = (kind: "shape" | "mean", posterior: typeof hours) => posteriorReading(posterior!, { kind }, 0.9);
    expect(read("shape", hours).upper / read("shape", days).upper).toBeCloseTo(1, 6);
    expect(read("mean", hours).lower / read("mean", days).lower / 24).toBeCloseTo(1, 5);
  }
});

test("the answer holds both curves, readings and survival, as plain data", () => {
  const sample = sampleOf(looks);
  const answer = answerWithPrior(sample, { prior: shapePrior(1.2, 4), probability: 0.9, ages: [0, 50, 150, 300] });
  expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
  const posterior = shapePosterior(sample, shapePrior(1.2, 4));
  expect(answer.readings.b10).toEqual(posteriorReading(posterior, { kind: "quantile", failedFraction: 0.1 }, 0.9));
  expect(answer.survival.age).toEqual([0, 50, 150, 300]);
  expect([answer.survival.lower[0], answer.survival.median[0], answer.survival.upper[0]]).toEqual([1, 1, 1]);
  for (const column of [answer.survival.lower, answer.survival.median, answer.survival.upper]) {
    expect([...column].sort((a, b) => b - a)).toEqual(column);
  }
});

test("a prior that contradicts the lives is said so; one that knows more than they do, too", () => {
  const { sample } = found(randomLives(14, 150, "exact and right", 3).slice(1));
  expect(shapePosterior(sample, shapePrior(0.5, 0.9)).notices).toMatchObject([{ code: "prior-and-lives-disagree" }]);
  expect(shapePosterior(sampleOf(few), shapePrior(1.8, 2.4)).notices).toMatchObject([{ code: "prior-decides" }]);
});

test("ranges that are none, and lives that were not followed, are refused", () => {
  expect(() => shapePrior(2, 2)).toThrowError(/high/);
  expect(() => shapePrior(0, 2)).toThrowError(/low/);
  expect(() => shapePrior(1, 2, 1)).toThrowError(/sure/);
  expect(() => shapePosterior(sampleOf(running(0)), shapePrior(1, 2))).toThrowError(/exposure/);
});
