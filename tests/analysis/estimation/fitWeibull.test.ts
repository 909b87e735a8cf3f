import { describe, expect, test } from "vitest";
import { fitWeibull } from "../../../analysis/estimation/fitWeibull.ts";
import { type LifeInput, lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { failed, found, running } from "../../support/estimation/found.ts";
import { type Mix, randomLives } from "../../support/estimation/randomLives.ts";
import { slowLogLikelihood, slowMaximum } from "../../support/estimation/slowWeibull.ts";

const mixes: readonly Mix[] = ["exact and right", "between looks", "truncated", "ranged", "everything"];

const scaled = (life: LifeInput, factor: number): LifeInput => ({
  ...life,
  lower: life.lower * factor,
  upper: life.upper === null ? null : life.upper * factor,
  ...(life.entry === undefined ? {} : { entry: life.entry * factor }),
  ...(life.lowerHigh === undefined ? {} : { lowerHigh: life.lowerHigh * factor }),
  ...(life.upperHigh === undefined || life.upperHigh === null ? {} : { upperHigh: life.upperHigh * factor }),
});

describe.each(mixes)("laws of the estimate, lives %s", (mix) => {
  const lives = randomLives(7, 60, mix);
  const { fit, sample } = found(lives);

  test("the score is zero at the estimate, and no other law does better", () => {
    expect(fit.largestScore).toBeLessThan(1e-9);
    const best = slowLogLikelihood(sample, fit.shape, fit.scale);
    // The midpoint rule of the second implementation is good to about 1e-7 a ranged life.
    expect(Math.abs(fit.logLikelihood - best)).toBeLessThan(1e-5);
    for (const turn of [0, 1, 2, 3, 4, 5, 6, 7]) {
      const angle = (turn * Math.PI) / 4;
      const shape = fit.shape * Math.exp(0.03 * Math.cos(angle));
      const scale = fit.scale * Math.exp(0.03 * Math.sin(angle));
      expect(slowLogLikelihood(sample, shape, scale)).toBeLessThan(best);
    }
  });

  test("hours to days scales the scale and leaves the shape", () => {
    const days = found(lives.map((life) => scaled(life, 1 / 24))).fit;
    expect(days.shape / fit.shape).toBeCloseTo(1, 10);
    expect((days.scale * 24) / fit.scale).toBeCloseTo(1, 10);
    expect(days.covariance.logShape / fit.covariance.logShape).toBeCloseTo(1, 8);
  });

  test("order does not matter, and a count of 2 is two like rows; doubled counts halve variances", () => {
    const reversed = found([...lives].reverse()).fit;
    expect(reversed.shape / fit.shape).toBeCloseTo(1, 11);
    const twice = found([...lives, ...lives]).fit;
    const counted = found(lives.map((life) => ({ ...life, count: 2 }))).fit;
    for (const double of [twice, counted]) {
      expect(double.shape / fit.shape).toBeCloseTo(1, 11);
      expect(double.logLikelihood / (2 * fit.logLikelihood)).toBeCloseTo(1, 11);
      expect((2 * double.covariance.logScale) / fit.covariance.logScale).toBeCloseTo(1, 9);
      expect(double.counts.failures).toBe(2 * fit.counts.failures);
    }
  });

  test("every life is counted once, by its kind", () => {
    const { exact, interval, left, right, failures, lives: all } = fit.counts;
    expect(exact + interval + left + right).toBe(all);
    expect(exact + interval + left).toBe(failures);
    expect(all).toBe(lives.length);
  });
});

test("a zero-width range equals a known age, and a narrow interval has the density of an exact age", () => {
  const exact = found([...failed(50, 80, 120), ...running(90, 140)]).fit;
  const zeroWidth = found([
    ...[50, 80, 120].map((age) => ({ lower: age, lowerHigh: age, upper: age, upperHigh: age })),
    ...running(90, 140),
  ]).fit;
  expect(zeroWidth).toEqual(exact);
  const width = 1e-6;
  const narrow = found([
    ...[50, 80, 120].map((age) => ({ lower: age - width / 2, upper: age + width / 2 })),
    ...running(90, 140),
  ]).fit;
  expect(narrow.shape / exact.shape).toBeCloseTo(1, 8);
  expect(narrow.scale / exact.scale).toBeCloseTo(1, 8);
  expect(narrow.logLikelihood - 3 * Math.log(width)).toBeCloseTo(exact.logLikelihood, 7);
});

test("a survivor that left at age 0 and one that entered where it left add nothing", () => {
  const base = [...failed(50, 80, 120), ...running(140)];
  const { fit } = found(base);
  const more = found([...base, { lower: 0, upper: null }, { lower: 70, upper: null, entry: 70 }]).fit;
  expect(more.shape / fit.shape).toBeCloseTo(1, 12);
  expect(more.scale / fit.scale).toBeCloseTo(1, 12);
});

test("lives entered at mid-age recover the law that made them; forgetting the entry overstates the life", () => {
  const lives = randomLives(11, 4000, "truncated", 1.8, 300);
  const { fit } = found(lives);
  expect(Math.abs(Math.log(fit.shape / 1.8))).toBeLessThan(4 * Math.sqrt(fit.covariance.logShape));
  expect(Math.abs(Math.log(fit.scale / 300))).toBeLessThan(4 * Math.sqrt(fit.covariance.logScale));
  const forgotten = found(lives.map(({ lower, upper }) => ({ lower, upper }))).fit;
  expect(Math.log(forgotten.scale / 300)).toBeGreaterThan(4 * Math.sqrt(forgotten.covariance.logScale));
});

describe("where there is no maximum, the fit says why", () => {
  const maximumOf = (lives: readonly LifeInput[]): string => fitWeibull(lifeSample({ unit: "h", lives })).maximum;

  test("no failures", () => {
    expect(maximumOf(running(10, 20, 30))).toBe("no failures");
  });

  test("all failures tied, or one failure with nothing after it", () => {
    expect(maximumOf(failed(100, 100, 100))).toBe("shape not bounded above");
    expect(maximumOf([...failed(100, 100), ...running(50, 100)])).toBe("shape not bounded above");
    expect(maximumOf([...failed(100), ...running(20, 60)])).toBe("shape not bounded above");
  });

  test("one age agrees with every interval; one single age of inspection", () => {
    expect(maximumOf([{ lower: 5, upper: 30 }, { lower: 20, upper: 40 }, ...running(25)])).toBe(
      "shape not bounded above",
    );
    expect(
      maximumOf([
        { lower: 0, upper: 10, count: 3 },
        { lower: 10, upper: null, count: 5 },
      ]),
    ).toBe("shape not bounded above");
  });

  test("ages in ranges that one age agrees with, though a lower maximum exists at a finite shape", () => {
    const lives: LifeInput[] = [
      { lower: 336, lowerHigh: 366, upper: 336, upperHigh: 366 },
      { lower: 364, lowerHigh: 394, upper: 364, upperHigh: 394 },
      { lower: 318, lowerHigh: 348, upper: 363, upperHigh: 393 },
      { lower: 289, lowerHigh: 319, upper: 337, upperHigh: 367 },
      { lower: 305, lowerHigh: 335, upper: null },
      { lower: 208, lowerHigh: 238, upper: null },
      { lower: 105, lowerHigh: 135, upper: null },
    ];
    expect(maximumOf(lives)).toBe("shape not bounded above");
    // One failure at a known age elsewhere rules that limit out.
    expect(maximumOf([...lives, ...failed(300)])).toBe("found");
  });

  test("fewer failed by the later look than by the earlier: only an ever flatter law fits", () => {
    const lives: LifeInput[] = [
      { lower: 0, upper: 10, count: 5 },
      { lower: 10, upper: null, count: 5 },
      { lower: 0, upper: 20, count: 2 },
      { lower: 20, upper: null, count: 8 },
    ];
    expect(maximumOf(lives)).toBe("scale not bounded");
    // The second implementation agrees: the likelihood grows all the way to shape 0.
    const sample = lifeSample({ unit: "h", lives });
    const profile = [1, 0.3, 0.1, 0.03].map((shape) =>
      slowMaximum((scale) => slowLogLikelihood(sample, shape, scale), -60, 60),
    );
    expect(profile).toEqual([...profile].sort((a, b) => a - b));
  });

  test("left-truncated lives that fail soon after entry at any age", () => {
    const lives = [
      { lower: 110, upper: 110, entry: 100 },
      { lower: 220, upper: 220, entry: 200 },
      { lower: 330, upper: null, entry: 300 },
    ];
    expect(maximumOf(lives)).toBe("scale not bounded");
  });
});

describe("hostile lives", () => {
  test("one failure with survivors beyond it has a maximum", () => {
    const { fit, sample } = found([...failed(100), ...running(50, 150, 200, 300)]);
    const value = (shape: number, scale: number): number => slowLogLikelihood(sample, shape, scale);
    expect(fit.largestScore).toBeLessThan(1e-12);
    const best = slowMaximum((shape) => slowMaximum((scale) => value(shape, scale), 3, 12), -3, 3);
    expect(fit.logLikelihood).toBeCloseTo(best, 8);
  });

  test("tied failures with one survivor beyond have a maximum", () => {
    expect(found([...failed(100, 100, 100), ...running(150)]).fit.shape).toBeGreaterThan(1);
  });

  test("an enormous outlier, and ages of 1e-12 or 1e200, are fitted without a fuss", () => {
    expect(found(failed(10, 12, 15, 20, 1e9)).fit.largestScore).toBeLessThan(1e-10);
    const small = found([...failed(1e-12, 2e-12, 5e-12), ...running(4e-12)]).fit;
    const large = found([...failed(1e200, 2e200, 5e200), ...running(4e200)]).fit;
    expect(small.shape / large.shape).toBeCloseTo(1, 10);
    expect((small.scale / large.scale) * 1e212).toBeCloseTo(1, 10);
  });

  test("counts of a thousand million and of a millionth give the same law", () => {
    const lives = (count: number): LifeInput[] =>
      [...failed(10, 20), ...running(15)].map((life) => ({ ...life, count }));
    const one = found(lives(1)).fit;
    for (const count of [1e9, 1e-6]) expect(found(lives(count)).fit.shape / one.shape).toBeCloseTo(1, 9);
  });

  test("a failure at age 0 is refused by name: no Weibull law allows it", () => {
    const sample = lifeSample({ unit: "h", lives: [{ lower: 0, upper: 0, id: "T-1" }, ...failed(10, 20)] });
    expect(() => fitWeibull(sample)).toThrowError(/bad-life.*T-1.*failed at age 0/);
  });
});
