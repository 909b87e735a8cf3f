// Lives as they should not be: each method refuses them by row and reason, or says in its result what can be concluded.
import { describe, expect, test } from "vitest";
import { AnalysisError } from "../../../analysis/errors.ts";
import { bootstrapBounds } from "../../../analysis/estimation/bootstrap/bootstrapBounds.ts";
import { bootstrapWeibull } from "../../../analysis/estimation/bootstrap/bootstrapWeibull.ts";
import { fitLaw } from "../../../analysis/estimation/fitLaw.ts";
import { fitWeibull } from "../../../analysis/estimation/fitWeibull.ts";
import { fixedShapeBounds, fixedShapeWeibull } from "../../../analysis/estimation/fixedShapeWeibull.ts";
import { type LifeInput, lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { answerWithPrior } from "../../../analysis/estimation/prior/answerWithPrior.ts";
import { shapePrior } from "../../../analysis/estimation/prior/shapePrior.ts";
import { weibullBounds } from "../../../analysis/estimation/profileBounds.ts";
import { fitByRankRegression } from "../../../analysis/estimation/rankRegression/fitByRankRegression.ts";
import { productLimit } from "../../../analysis/nonparametric/productLimit.ts";
import { turnbull } from "../../../analysis/nonparametric/turnbull.ts";
import { sayError } from "../../../analysis/wording/index.ts";

const sampleOf = (lives: readonly LifeInput[]) => lifeSample({ unit: "h", lives });
const failed = (age: number): LifeInput => ({ lower: age, upper: age });
const good = (age: number): LifeInput => ({ lower: age, upper: null });
const laws = [
  "weibull",
  "exponential",
  "lognormal",
  "loglogistic",
  "gamma",
  "generalised gamma",
  "smallest extreme value",
  "normal",
  "three-parameter weibull",
] as const;

function refusal(run: () => unknown): AnalysisError {
  try {
    run();
  } catch (error) {
    if (error instanceof AnalysisError) return error;
    throw error;
  }
  throw new Error("not refused");
}

/** No NaN anywhere in plain data, and no infinite number but where the caller allows it. */
function holdsNumbers(value: unknown, path = "result"): void {
  if (typeof value === "number") expect(Number.isFinite(value), path).toBe(true);
  else if (value !== null && typeof value === "object")
    for (const [name, inner] of Object.entries(value)) holdsNumbers(inner, `${path}.${name}`);
}

describe("a life that cannot be is refused by row, in words that name it", () => {
  const fine = [failed(100), good(200)];
  test.each<[string, LifeInput, string, string]>([
    ["negative hours", { lower: -5, upper: null }, "lower", "which is below 0"],
    ["hours that are no number", { lower: Number.NaN, upper: null }, "lower", "which is not a number"],
    ["unending hours", { lower: 10, upper: Number.POSITIVE_INFINITY }, "upper", "which is not a number"],
    [
      "known good after it failed",
      { lower: 90, upper: 40 },
      "lower",
      "so it would have failed before it was known good",
    ],
    ["followed from after its end", { ...good(50), entry: 70 }, "entry", "after its life was over"],
    ["no lives of its kind", { ...good(50), count: 0 }, "count", "which must be above 0"],
    ["a range that runs backwards", { ...good(50), lowerHigh: 40 }, "lowerHigh", "so the range runs backwards"],
  ])("%s", (_, life, column, words) => {
    const error = refusal(() => sampleOf([...fine, { ...life, id: "S-3" }]));
    expect(error).toMatchObject({ code: "bad-life", facts: { row: 3, id: "S-3", column } });
    const sentence = sayError(error);
    expect(sentence).toContain('"S-3"');
    expect(sentence).toContain(words);
    expect(sayError(refusal(() => sampleOf([...fine, life])))).toContain("Life 3 does not hold together");
  });

  test.each(laws)("a failure at age 0 is refused by %s, and said to be a build reject", (law) => {
    const error = refusal(() => fitLaw(sampleOf([failed(100), failed(0), good(200)]), law));
    expect(error).toMatchObject({ code: "bad-life", facts: { row: 2, why: "failed at age 0" } });
    expect(sayError(error)).toContain("build reject");
  });
});

describe("a life that a method cannot use is refused by name, with the method that can", () => {
  const looked = sampleOf([failed(100), { lower: 50, upper: 90, id: "S-9" }, good(200)]);
  test.each<[string, () => unknown, string]>([
    ["product-limit", () => productLimit(looked), "Use the Turnbull estimate"],
    ["fixed shape", () => fixedShapeWeibull(looked, 2), "Use the maximum likelihood fit"],
    ["rank regression", () => fitByRankRegression(looked, "weibull"), "Use the maximum likelihood fit"],
  ])("%s", (_, run, advice) => {
    const sentence = sayError(refusal(run));
    expect(sentence).toContain('life "S-9"');
    expect(sentence).toContain("between two inspections");
    expect(sentence).toContain(advice);
  });
});

describe("no failures", () => {
  const sample = sampleOf([good(100), good(150), good(300)]);
  test.each(laws)("%s says so, and gives no number", (law) => {
    expect(fitLaw(sample, law)).toMatchObject({ maximum: "no failures", iterations: 0 });
  });
  test("what can still be concluded: a shape from elsewhere bounds the life from below", () => {
    const fixed = fixedShapeWeibull(sample, 2);
    expect(fixed.scale).toBeNull();
    const { lower, upper } = fixedShapeBounds(fixed, { kind: "scale" }, 0.9);
    // 2 total / chi-square(0.9; 2) = total / -log 0.1, total = 100^2 + 150^2 + 300^2.
    expect(lower).toBeCloseTo(Math.sqrt(122_500 / Math.log(10)), 8);
    expect(upper).toBeNull();
    holdsNumbers(answerWithPrior(sample, { prior: shapePrior(1, 4), probability: 0.9, ages: [0, 100] }));
    expect(productLimit(sample).steps).toEqual([]);
    expect(fitByRankRegression(sample, "weibull")).toBeNull();
  });
});

describe("one failure", () => {
  test("with survivors beyond it there is a law, with very wide bounds", () => {
    const sample = sampleOf([failed(100), good(150), good(300)]);
    const fit = fitWeibull(sample);
    if (fit.maximum !== "found") throw new Error(fit.maximum);
    const { lower, upper } = weibullBounds(fit, sample, { kind: "quantile", failedFraction: 0.5 }, 0.9);
    expect((upper ?? Number.POSITIVE_INFINITY) / (lower ?? 0)).toBeGreaterThan(3);
  });
  test.each(["weibull", "lognormal", "gamma"] as const)("%s: with nothing beyond it the shape has no end", (law) => {
    expect(fitLaw(sampleOf([failed(100), good(60), good(80)]), law).maximum).toBe("shape not bounded above");
  });
});

describe("all failures at one age", () => {
  const tied = [failed(100), failed(100), failed(100)];
  test.each(["weibull", "lognormal", "loglogistic", "gamma", "normal", "smallest extreme value"] as const)(
    "%s: no maximum, and it says which way it runs",
    (law) => {
      expect(fitLaw(sampleOf(tied), law).maximum).toBe("shape not bounded above");
    },
  );
  test("steps still stand, and the exponential law does not mind", () => {
    expect(productLimit(sampleOf(tied)).steps).toMatchObject([{ time: 100, failures: 3, survival: 0 }]);
    const fit = fitLaw(sampleOf(tied), "exponential");
    expect(fit.maximum === "found" && fit.parameters.scale).toBeCloseTo(100, 8);
  });
  test("in resamples it is counted, not hidden", () => {
    const sample = sampleOf([...tied, good(120), failed(90)]);
    const fit = fitWeibull(sample);
    if (fit.maximum !== "found") throw new Error(fit.maximum);
    const drawn = bootstrapWeibull(sample, fit, ["a", "b", "c", "d", "e"], { resamples: 200, seed: 1 });
    expect(drawn.shape.length + Object.values(drawn.withoutMaximum).reduce((sum, n) => sum + n, 0)).toBe(200);
    const bounds = bootstrapBounds(drawn, { kind: "scale" }, 0.9);
    expect(bounds.notices.map(({ code }) => code)).toContain("resamples-without-maximum");
  });
});

describe("an enormous outlier", () => {
  const lives = [...[90, 110, 130, 150, 170, 190, 210, 230].map(failed), failed(5e6), good(200)];
  test.each(laws)("%s: a law in numbers, or words for why not", (law) => {
    const fit = fitLaw(sampleOf(lives), law);
    if (fit.maximum === "found") {
      holdsNumbers(fit.parameters);
      expect(fit.largestScore).toBeLessThan(1e-6);
    } else expect(fit.maximum).toMatch(/not bounded|no interior maximum/);
  });
  test("one age of 1e300 among ages of 1e-300", () => {
    const fit = fitWeibull(sampleOf([failed(1e-300), failed(1), failed(1e300), good(2)]));
    expect(fit.maximum).toBe("found");
    holdsNumbers(fit);
  });
});

test("a million rows of whole hours are fitted, bounded and drawn", { timeout: 120_000 }, () => {
  const lives = Array.from({ length: 1_000_000 }, (_, i): LifeInput => {
    const age = 1 + ((i * 7919) % 1_000);
    return i % 3 === 0 ? failed(age) : i % 3 === 1 ? good(age) : { lower: age, upper: age + 50 };
  });
  const sample = sampleOf(lives);
  const fit = fitWeibull(sample);
  if (fit.maximum !== "found") throw new Error(fit.maximum);
  expect(fit.counts).toMatchObject({ lives: 1_000_000, failures: 666_667 });
  const { lower, upper } = weibullBounds(fit, sample, { kind: "quantile", failedFraction: 0.1 }, 0.9);
  expect((upper ?? 0) / (lower ?? 1)).toBeLessThan(1.02);
  const known = sampleOf(lives.filter(({ lower: low, upper: high }) => high === null || high === low));
  expect(productLimit(known).steps).toHaveLength(1_000);
  // The same million said by counts: a few thousand distinct lives.
  const counts = new Map<string, LifeInput & { count: number }>();
  for (const life of lives) {
    const key = `${life.lower} ${life.upper}`;
    const before = counts.get(key);
    if (before) before.count += 1;
    else counts.set(key, { ...life, count: 1 });
  }
  const counted = fitWeibull(sampleOf([...counts.values()]));
  expect(counted.maximum === "found" && counted.shape).toBeCloseTo(fit.shape, 10);
});

test("Turnbull's estimate stands where every life is left-censored, or none is known to have failed", () => {
  const left = turnbull(
    sampleOf([
      { lower: 0, upper: 50 },
      { lower: 0, upper: 80 },
    ]),
  );
  expect(left.intervals.reduce((sum, { mass }) => sum + mass, 0)).toBeCloseTo(1, 10);
  const none = turnbull(sampleOf([good(50), good(80)]));
  expect(none.intervals.every(({ high }) => high === null)).toBe(true);
});
