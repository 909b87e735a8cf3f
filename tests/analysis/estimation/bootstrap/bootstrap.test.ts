import { expect, test } from "vitest";
import { bootstrapBounds } from "../../../../analysis/estimation/bootstrap/bootstrapBounds.ts";
import { bootstrapWeibull } from "../../../../analysis/estimation/bootstrap/bootstrapWeibull.ts";
import { randomStream } from "../../../../analysis/estimation/bootstrap/randomStream.ts";
import { weibullRefitter } from "../../../../analysis/estimation/bootstrap/weibullRefitter.ts";
import { weightedLikelihood } from "../../../../analysis/estimation/bootstrap/weightedLikelihood.ts";
import { weightedSample } from "../../../../analysis/estimation/bootstrap/weightedSample.ts";
import { fitWeibull } from "../../../../analysis/estimation/fitWeibull.ts";
import { type LifeInput, lifeSample } from "../../../../analysis/estimation/lifeSample.ts";
import { weibullWaldBounds } from "../../../../analysis/estimation/waldBounds.ts";
import { weibullLikelihood } from "../../../../analysis/estimation/weibullLikelihood.ts";
import { weibullQuantity } from "../../../../analysis/estimation/weibullQuantity.ts";
import { failed, found, running } from "../../../support/estimation/found.ts";
import { randomLives } from "../../../support/estimation/randomLives.ts";
import { slowLogLikelihood } from "../../../support/estimation/slowWeibull.ts";

const mixes = ["exact and right", "between looks", "truncated", "ranged", "everything"] as const;

test.each(mixes)("life by life the likelihood is the sum that the fit climbs: %s", (mix) => {
  const sample = lifeSample({ unit: "h", lives: randomLives(3, 40, mix) });
  const whole = weibullLikelihood(sample);
  const parts = weightedLikelihood(sample);
  const expected = new Float64Array(6);
  const computed = new Float64Array(6);
  for (const [shape, level] of [
    [0.6, 0.3],
    [1.8, -0.4],
    [4, -1.5],
  ] as const) {
    whole.evaluate(shape, level, expected);
    parts.evaluate(sample.count, shape, level, computed);
    for (let k = 0; k < 6; k++) expect(computed[k]! / expected[k]!).toBeCloseTo(1, 11);
  }
  const scale = Math.exp(parts.center + 0.4 / 1.8);
  parts.evaluate(sample.count, 1.8, -0.4, computed);
  expect(computed[0]! / slowLogLikelihood(sample, 1.8, scale)).toBeCloseTo(1, 6);
});

test.each(mixes)("a weight is a count: refits agree with fits of the copied lives: %s", (mix) => {
  const sample = lifeSample({ unit: "h", lives: randomLives(11, 60, mix) });
  const fit = fitWeibull(sample);
  if (fit.maximum !== "found") throw new Error(fit.maximum);
  const { refit } = weibullRefitter(sample, fit);
  const random = randomStream(5);
  for (let resample = 0; resample < 8; resample++) {
    const weights = new Float64Array(sample.n);
    for (let draw = 0; draw < sample.n; draw++) weights[random.below(sample.n)]! += 1;
    const slow = fitWeibull(weightedSample(sample, weights));
    const quick = refit(weights);
    if (quick.maximum !== "found" || slow.maximum !== "found") throw new Error("no maximum");
    expect(quick.shape / slow.shape).toBeCloseTo(1, 7);
    expect(quick.scale / slow.scale).toBeCloseTo(1, 7);
    expect(quick.logLikelihood).toBeCloseTo(slow.logLikelihood, 7);
  }
});

// All 3^3 = 27 resamples of three serials, worked out one by one, are what the seeded ones are drawn from.
test("three serials: replicates come with the frequencies of the 27 resamples, whole serials together", () => {
  const lives = [...failed(90, 120), ...failed(200), ...running(260), ...failed(310, 150)];
  const groupOf = ["A", "A", "B", "B", "C", "C"];
  const { sample, fit } = found(lives);
  const exact: number[] = [];
  for (let code = 0; code < 27; code++) {
    const drawn = [code % 3, Math.floor(code / 3) % 3, Math.floor(code / 9)];
    const weights = Float64Array.from(groupOf, (name) => drawn.filter((d) => "ABC"[d] === name).length);
    const one = fitWeibull(weightedSample(sample, weights));
    if (one.maximum === "found") exact.push(Math.log(one.shape));
  }
  const { shape, resamples, withoutMaximum, notices } = bootstrapWeibull(sample, fit, groupOf, {
    seed: 7,
    resamples: 20_000,
  });
  const counted = Object.values(withoutMaximum).reduce((sum, count) => sum + count, 0);
  expect(counted + shape.length).toBe(resamples);
  // B alone, once in 27, is one exact failure with a survivor beyond it.
  expect(Math.abs(counted / resamples - (27 - exact.length) / 27)).toBeLessThan(0.006);
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  expect(Math.abs(mean([...shape].map(Math.log)) - mean(exact))).toBeLessThan(0.02);
  expect(new Set([...shape].map((value) => value.toFixed(6))).size).toBeLessThanOrEqual(10);
  expect(notices.map(({ code }) => code)).toContain("few-groups");
});

test("ends are the sorted replicates at places (B + 1) a; bias correction moves them by the share below the estimate", () => {
  const shape = Float64Array.from({ length: 99 }, (_, i) => Math.exp((i + 1) / 10));
  const replicates = {
    unit: "h",
    estimate: { shape: Math.exp(5), scale: 1 },
    groups: 20,
    resamples: 99,
    seed: 1,
    shape,
    scale: new Float64Array(99).fill(1),
    withoutMaximum: {},
    notices: [],
  };
  const plain = bootstrapBounds(replicates, { kind: "shape" }, 0.9);
  // (99 + 1) * 0.05 = 5 and 95.
  expect([Math.log(plain.lower!), Math.log(plain.upper!)].map((u) => 10 * u)).toEqual([
    expect.closeTo(5, 10),
    expect.closeTo(95, 10),
  ]);
  const centred = bootstrapBounds(replicates, { kind: "shape" }, 0.9, "bias-corrected");
  expect(10 * Math.log(centred.lower!)).toBeCloseTo(5, 8);
  // 69.5 of 99 below: z0 = 0.5302, Phi(1.0604 -+ 1.6449) = 0.2795 and 0.9966 (normal table), the last beyond place 99.
  const skew = bootstrapBounds(
    { ...replicates, estimate: { shape: Math.exp(7), scale: 1 } },
    { kind: "shape" },
    0.9,
    "bias-corrected",
  );
  expect(10 * Math.log(skew.lower!)).toBeCloseTo(27.95, 1);
  expect(skew.upper).toBeNull();
});

test("with many single lives, bounds come near those of normal theory; survival keeps its direction", () => {
  const { sample, fit } = found(randomLives(21, 700, "everything"));
  const replicates = bootstrapWeibull(
    sample,
    fit,
    Array.from({ length: 700 }, (_, i) => String(i)),
    { seed: 3, resamples: 600 },
  );
  for (const quantity of [
    { kind: "shape" },
    { kind: "scale" },
    { kind: "quantile", failedFraction: 0.1 },
    { kind: "survival", age: 200 },
    { kind: "mean" },
  ] as const) {
    const { lower, upper, value } = bootstrapBounds(replicates, quantity, 0.9);
    const wald = weibullWaldBounds(fit, quantity, 0.9);
    expect(value).toBeCloseTo(weibullQuantity(quantity, fit), 10);
    expect(lower! < value && value < upper!).toBe(true);
    expect((upper! - lower!) / (wald.upper - wald.lower)).toBeGreaterThan(0.85);
    expect((upper! - lower!) / (wald.upper - wald.lower)).toBeLessThan(1.15);
  }
});

test("lives of one tool that are all alike: resampling tools gives wider bounds than resampling lives", () => {
  const lives: LifeInput[] = [];
  const serials: string[] = [];
  randomLives(5, 20, "exact and right").forEach((life, tool) => {
    for (let copy = 0; copy < 5; copy++) {
      lives.push(life);
      serials.push(`T${tool}`);
    }
  });
  const { sample, fit } = found(lives);
  const width = (groupOf: readonly string[]): number =>
    bootstrapBounds(bootstrapWeibull(sample, fit, groupOf, { seed: 2, resamples: 800 }), { kind: "scale" }, 0.9)
      .transformedError;
  // Five copies of each life: the error of whole tools is sqrt(5) = 2.24 times that of single lives.
  const ratio = width(serials) / width(serials.map((_, i) => String(i)));
  expect(ratio).toBeGreaterThan(1.9);
  expect(ratio).toBeLessThan(2.6);
});

test("the same seed gives the same replicates, another seed others; age in days scales the scale alone", () => {
  const lives = randomLives(8, 50, "between looks");
  const { sample, fit } = found(lives);
  const serials = lives.map((_, i) => `T${i % 12}`);
  const run = (seed: number) => bootstrapWeibull(sample, fit, serials, { seed, resamples: 50 });
  expect(run(4).shape).toEqual(run(4).shape);
  expect(run(4).shape).not.toEqual(run(5).shape);
  const days = found(
    lives.map(({ lower, upper }) => ({ lower: lower / 24, upper: upper === null ? null : upper / 24 })),
    "d",
  );
  const inDays = bootstrapWeibull(days.sample, days.fit, serials, { seed: 4, resamples: 50 });
  inDays.scale.forEach((scale, b) => {
    expect((24 * scale) / run(4).scale[b]!).toBeCloseTo(1, 7);
  });
});

test("too few serials named, or no resamples asked for, is refused", () => {
  const { sample, fit } = found(failed(10, 20, 30));
  expect(() => bootstrapWeibull(sample, fit, ["A"], { seed: 1 })).toThrowError(/bad-setting.*serials/);
  expect(() => bootstrapWeibull(sample, fit, ["A", "B", "C"], { seed: 1, resamples: 0 })).toThrowError(/resamples/);
});
