import { expect, test } from "vitest";
import { fitWeibull } from "../../../../analysis/estimation/fitWeibull.ts";
import { compareGroups } from "../../../../analysis/estimation/groups/compareGroups.ts";
import { jointRegion } from "../../../../analysis/estimation/groups/jointRegion.ts";
import { lifeProfile } from "../../../../analysis/estimation/groups/lifeProfile.ts";
import { mergeSamples } from "../../../../analysis/estimation/groups/mergeSamples.ts";
import { ratioOfLives } from "../../../../analysis/estimation/groups/ratioOfLives.ts";
import { scaledSample } from "../../../../analysis/estimation/groups/scaledSample.ts";
import { shapeProfile } from "../../../../analysis/estimation/groups/shapeProfile.ts";
import { type LifeInput, lifeSample } from "../../../../analysis/estimation/lifeSample.ts";
import { weibullBounds } from "../../../../analysis/estimation/profileBounds.ts";
import { chiSquareQuantile } from "../../../../analysis/numerics/index.ts";
import { failed, found, running } from "../../../support/estimation/found.ts";
import { goldenMaximum } from "../../../support/estimation/goldenMaximum.ts";
import { randomLives } from "../../../support/estimation/randomLives.ts";
import { slowLogLikelihood } from "../../../support/estimation/slowWeibull.ts";

const sampleOf = (lives: readonly LifeInput[]) => lifeSample({ unit: "h", lives });
const first = randomLives(31, 25, "exact and right", 1.5, 400);
const second = randomLives(32, 30, "between looks", 2.4, 250);

test("log likelihoods agree with plain searches over shape and scale", () => {
  const samples = [sampleOf(first), sampleOf(second)];
  const compared = compareGroups(samples.map((sample, i) => ({ name: `group ${i + 1}`, sample })));
  const bestScale = (sample: (typeof samples)[number], shape: number): number =>
    goldenMaximum((scale) => slowLogLikelihood(sample, shape, scale), Math.log(80), Math.log(1500));
  const both = (shape: number): number => samples.reduce((sum, sample) => sum + bestScale(sample, shape), 0);
  expect(compared.logLikelihood.commonShape).toBeCloseTo(goldenMaximum(both, Math.log(0.7), Math.log(5)), 5);
  const merged = mergeSamples(samples);
  const one = goldenMaximum((shape) => bestScale(merged, shape), Math.log(0.7), Math.log(5));
  expect(compared.logLikelihood.commonLaw).toBeCloseTo(one, 5);
  const { sameShape, sameLife, sameLaw } = compared;
  expect(sameShape.statistic! + sameLife.statistic!).toBeCloseTo(sameLaw.statistic!, 8);
  expect([sameShape.degreesOfFreedom, sameLife.degreesOfFreedom, sameLaw.degreesOfFreedom]).toEqual([1, 1, 2]);
});

// With exponential-like replicas the answer is known: two equal groups share everything.
test("two equal groups differ in nothing; a group ten times as long-lived differs in life and not in shape", () => {
  const sample = sampleOf(first);
  const same = compareGroups([
    { name: "a", sample },
    { name: "b", sample },
  ]);
  expect(same.sameLaw.statistic).toBeCloseTo(0, 8);
  expect(same.sameLaw.pValue).toBeCloseTo(1, 6);
  const longer = compareGroups([
    { name: "a", sample },
    { name: "b", sample: scaledSample(sample, 10).sample },
  ]);
  expect(longer.sameShape.statistic).toBeCloseTo(0, 8);
  expect(longer.sameLife.pValue!).toBeLessThan(1e-6);
  const [a, b] = longer.groups;
  expect(b!.scaleAtCommonShape! / a!.scaleAtCommonShape!).toBeCloseTo(10, 7);
});

test("a group without a failure has no law of its own, yet counts where the shape is common", () => {
  const compared = compareGroups([
    { name: "a", sample: sampleOf(first) },
    { name: "b", sample: sampleOf(running(600, 700, 800, 900, 900)) },
  ]);
  expect(compared.groups[1]).toMatchObject({ failures: 0, maximum: "no failures", scaleAtCommonShape: null });
  expect([compared.sameShape.pValue, compared.sameLaw.pValue]).toEqual([null, null]);
  expect(compared.sameLife.statistic!).toBeGreaterThan(0);
});

test("slopes and bends of both profiles agree with differences", () => {
  for (const lives of [first, second, randomLives(5, 30, "everything")]) {
    const sample = sampleOf(lives);
    const step = 1e-4;
    for (const [profile, u] of [
      [shapeProfile(sample), Math.log(1.4)],
      [lifeProfile(sample, 0.1, 1.8), Math.log(110)],
    ] as const) {
      const [low, middle, high] = [profile(u - step), profile(u), profile(u + step)];
      expect(middle.slope).toBeCloseTo((high.value - low.value) / (2 * step), 4);
      expect(middle.bend / ((high.slope - low.slope) / (2 * step))).toBeCloseTo(1, 4);
    }
  }
});

test("the ratio of B10 lives: its bounds are where the four-parameter likelihood has dropped, by plain search", () => {
  const [a, b] = [sampleOf(first), sampleOf(second)];
  const ratio = ratioOfLives(a, b, { confidence: 0.9 });
  if (ratio.maximum !== "found") throw new Error(ratio.maximum);
  const z = -Math.log1p(-0.1);
  const atLife = (sample: typeof a, life: number): number =>
    goldenMaximum((shape) => slowLogLikelihood(sample, shape, life / z ** (1 / shape)), Math.log(0.3), Math.log(8));
  const profile = (value: number): number =>
    goldenMaximum((life) => atLife(a, life * value) + atLife(b, life), Math.log(20), Math.log(300));
  const top = profile(ratio.value);
  const cut = 0.5 * chiSquareQuantile(0.9, 1);
  expect(top - profile(ratio.lower!)).toBeCloseTo(cut, 3);
  expect(top - profile(ratio.upper!)).toBeCloseTo(cut, 3);
  const [fitA, fitB] = [fitWeibull(a), fitWeibull(b)];
  if (fitA.maximum !== "found" || fitB.maximum !== "found") throw new Error("no maximum");
  expect(top).toBeCloseTo(fitA.logLikelihood + fitB.logLikelihood, 6);
  expect(2 * (top - profile(1))).toBeCloseTo(ratio.equalLives.statistic, 3);
});

test("with a common shape the ratio does not depend on the fraction, agrees with the test of same life, and turns over with the groups", () => {
  const [a, b] = [sampleOf(first), sampleOf(second)];
  const at = (x: typeof a, y: typeof a, failedFraction: number) => {
    const ratio = ratioOfLives(x, y, { confidence: 0.9, failedFraction, shapes: "common" });
    if (ratio.maximum !== "found") throw new Error(ratio.maximum);
    return ratio;
  };
  const [b10, b50, turned] = [at(a, b, 0.1), at(a, b, 0.5), at(b, a, 0.1)];
  expect(b10.value / b50.value).toBeCloseTo(1, 7);
  expect(b10.lower! * turned.upper!).toBeCloseTo(1, 6);
  const compared = compareGroups([
    { name: "a", sample: a },
    { name: "b", sample: b },
  ]);
  expect(b10.equalLives.statistic).toBeCloseTo(compared.sameLife.statistic!, 6);
  const [one, two] = compared.groups;
  expect(b10.value / (one!.scaleAtCommonShape! / two!.scaleAtCommonShape!)).toBeCloseTo(1, 5);
});

test("no ratio where a group has no law, and none between units", () => {
  const ratio = ratioOfLives(sampleOf(first), sampleOf(running(100)), { confidence: 0.9 });
  expect(ratio).toEqual({ maximum: "no failures", which: "second" });
  const days = lifeSample({ unit: "d", lives: first });
  expect(() => ratioOfLives(sampleOf(first), days, { confidence: 0.9 })).toThrowError(/unit/);
});

test("every point of the joint region has dropped by half the chi-square of two degrees; its extremes are wider bounds of shape", () => {
  for (const lives of [first, second]) {
    const { sample, fit } = found(lives);
    const region = jointRegion(fit, sample, 0.9, 360);
    for (const point of region.outline) {
      if (!point) throw new Error("open");
      expect(fit.logLikelihood - slowLogLikelihood(sample, point.shape, point.scale)).toBeCloseTo(-Math.log(0.1), 6);
    }
    // The shadow of the region on the shape is the profile bound at the one-degree level with the same cut, -2 log 0.1.
    const shapes = region.outline.map((point) => point?.shape ?? Number.NaN);
    // 0.9681 = P(chi-square, one degree, <= 4.605) = P(|Z| <= 2.146), normal table.
    const sameCut = 0.9681;
    let [low, high] = [0.9, 0.99];
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2;
      if (chiSquareQuantile(middle, 1) < -2 * Math.log(0.1)) low = middle;
      else high = middle;
    }
    expect(low).toBeCloseTo(sameCut, 4);
    const { lower, upper } = weibullBounds(fit, sample, { kind: "shape" }, low);
    expect(Math.min(...shapes) / lower!).toBeCloseTo(1, 3);
    expect(Math.max(...shapes) / upper!).toBeCloseTo(1, 3);
  }
});

// One look a life: sound or failed. A law of shape 0 gives each the same chance, so the drop towards it is bounded.
test("a region that no drop closes is said to be open in those directions", () => {
  const { sample, fit } = found([
    { lower: 0, upper: 50, count: 1 },
    { lower: 0, upper: 100, count: 2 },
    { lower: 0, upper: 200, count: 3 },
    { lower: 50, upper: null, count: 3 },
    { lower: 100, upper: null, count: 2 },
    { lower: 200, upper: null, count: 1 },
  ]);
  expect(jointRegion(fit, sample, 0.5).outline.every((point) => point !== null)).toBe(true);
  expect(jointRegion(fit, sample, 0.99).outline.some((point) => point === null)).toBe(true);
});

test("one group, or groups in two units, are refused", () => {
  const sample = sampleOf(failed(10, 20, 30));
  expect(() => compareGroups([{ name: "a", sample }])).toThrowError(/groups/);
  expect(() =>
    compareGroups([
      { name: "a", sample },
      { name: "b", sample: lifeSample({ unit: "d", lives: failed(1, 2) }) },
    ]),
  ).toThrowError(/unit/);
});
