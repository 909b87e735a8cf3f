// The laws that fitLaw.test.ts holds the two-parameter families to, for those with a third parameter and for the other methods.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fitLaw, type LawFound } from "../../../analysis/estimation/fitLaw.ts";
import { fixedShapeBounds, fixedShapeWeibull } from "../../../analysis/estimation/fixedShapeWeibull.ts";
import { lawBounds } from "../../../analysis/estimation/lawBounds.ts";
import { lawQuantity } from "../../../analysis/estimation/lawQuantity.ts";
import { type LifeInput, lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { answerWithPrior } from "../../../analysis/estimation/prior/answerWithPrior.ts";
import { shapePrior } from "../../../analysis/estimation/prior/shapePrior.ts";
import { randomLives } from "../../support/estimation/randomLives.ts";

const sampleOf = (lives: readonly LifeInput[]) => lifeSample({ unit: "h", lives });
const scaled = (life: LifeInput, factor: number): LifeInput => ({
  lower: life.lower * factor,
  upper: life.upper === null ? null : life.upper * factor,
  entry: (life.entry ?? 0) * factor,
  count: life.count ?? 1,
});
function found(lives: readonly LifeInput[], law: "generalised gamma" | "three-parameter weibull"): LawFound {
  const fit = fitLaw(sampleOf(lives), law);
  if (fit.maximum !== "found") throw new Error(fit.maximum);
  return fit;
}
/** Lives of a Weibull law that begins at 40 h, so that both families have a maximum inside. */
const late = randomLives(12, 120, "exact and right").map((life) => ({
  ...life,
  lower: life.lower + 40,
  upper: life.upper === null ? null : life.upper + 40,
}));
const median = { kind: "quantile", failedFraction: 0.5 } as const;
const tenth = { kind: "quantile", failedFraction: 0.1 } as const;

describe.each(["generalised gamma", "three-parameter weibull"] as const)("%s", (law) => {
  const fit = found(late, law);
  const close = (one: LawFound, other: LawFound, factor = 1): void => {
    for (const quantity of [tenth, median])
      expect((factor * lawQuantity(one, quantity)) / lawQuantity(other, quantity)).toBeCloseTo(1, 7);
  };

  test("the score is zero", () => {
    expect(fit.largestScore).toBeLessThan(1e-7);
  });
  test("hours to days moves ages and nothing else", () => {
    const days = found(
      late.map((life) => scaled(life, 1 / 24)),
      law,
    );
    close(days, fit, 24);
    const failures = late.filter(({ upper }) => upper !== null).length;
    expect(days.logLikelihood - failures * Math.log(24)).toBeCloseTo(fit.logLikelihood, 6);
  });
  test("order does not matter", () => {
    close(found(late.toReversed(), law), fit);
  });
  test("a count of 2 is two like rows", () => {
    const [rows, counts] = [[...late, ...late], late.map((life) => ({ ...life, count: 2 }))].map((lives) =>
      found(lives, law),
    ) as [LawFound, LawFound];
    close(rows, fit);
    close(counts, fit);
    expect(rows.logLikelihood).toBeCloseTo(2 * fit.logLikelihood, 6);
    expect(counts.logLikelihood).toBeCloseTo(2 * fit.logLikelihood, 6);
  });
  test("zero width equals exact", () => {
    const zero = late.map((life) =>
      life.upper === null ? life : { ...life, lowerHigh: life.lower, upperHigh: life.upper },
    );
    expect(found(zero, law)).toEqual(fit);
  });
  test("bounds grow with confidence and hold the estimate", () => {
    const sample = sampleOf(late);
    const value = lawQuantity(fit, tenth);
    const ends = [0.5, 0.8, 0.95].map((confidence) => lawBounds(fit, sample, tenth, confidence));
    const line = [
      ...ends.toReversed().map(({ lower }) => lower ?? Number.NEGATIVE_INFINITY),
      value,
      ...ends.map(({ upper }) => upper ?? Number.POSITIVE_INFINITY),
    ];
    expect(line).toEqual([...line].sort((a, b) => a - b));
    expect(new Set(line.filter(Number.isFinite)).size).toBe(line.filter(Number.isFinite).length);
  });
});

const age = fc.double({ min: 1, max: 1_000, noNaN: true });
const someLives = fc.array(fc.record({ age, fails: fc.boolean() }), { minLength: 2, maxLength: 25 });
const written = (lives: readonly { readonly age: number; readonly fails: boolean }[]): LifeInput[] =>
  lives.map(({ age: at, fails }) => ({ lower: at, upper: fails ? at : null }));

test("a fixed shape: unit, order, counts and confidence, whatever the lives", () => {
  fc.assert(
    fc.property(someLives, fc.double({ min: 0.5, max: 4, noNaN: true }), (lives, shape) => {
      const all = written(lives);
      const at = (rows: readonly LifeInput[], confidence = 0.9) =>
        fixedShapeBounds(fixedShapeWeibull(sampleOf(rows), shape), tenth, confidence);
      const usual = at(all);
      expect((24 * at(all.map((life) => scaled(life, 1 / 24))).lower) / usual.lower).toBeCloseTo(1, 10);
      expect(at(all.toReversed()).lower / usual.lower).toBeCloseTo(1, 10);
      expect(at(all.map((life) => ({ ...life, count: 3 }))).lower / at([...all, ...all, ...all]).lower).toBeCloseTo(
        1,
        10,
      );
      expect(at(all, 0.99).lower).toBeLessThan(usual.lower);
      if (usual.upper !== null) expect(at(all, 0.99).upper ?? 0).toBeGreaterThan(usual.upper);
    }),
    { seed: 20, numRuns: 200 },
  );
});

test("a prior on the shape: unit, order, counts and probability, whatever the lives", () => {
  const prior = shapePrior(1, 4);
  fc.assert(
    fc.property(someLives, (lives) => {
      const all = written(lives);
      const at = (rows: readonly LifeInput[], probability = 0.9) =>
        answerWithPrior(sampleOf(rows), { prior, probability, ages: [] }).readings.b10;
      const usual = at(all);
      expect((24 * at(all.map((life) => scaled(life, 1 / 24))).lower) / usual.lower).toBeCloseTo(1, 6);
      expect(at(all.toReversed()).upper / usual.upper).toBeCloseTo(1, 6);
      expect(at(all.map((life) => ({ ...life, count: 2 }))).median / at([...all, ...all]).median).toBeCloseTo(1, 6);
      const wide = at(all, 0.99);
      expect(wide.lower).toBeLessThan(usual.lower);
      expect(wide.upper).toBeGreaterThan(usual.upper);
    }),
    { seed: 21, numRuns: 40 },
  );
});
