// Very many lives go by another way (condensed first, tails from tables): the answer must be that of the plain way.
import { describe, expect, test } from "vitest";
import { condensedSample, MANY_LIVES } from "../../../analysis/estimation/condensedSample.ts";
import { fitLaw } from "../../../analysis/estimation/fitLaw.ts";
import { lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { type Mix, randomLives } from "../../support/estimation/randomLives.ts";

const laws = [
  "weibull",
  "exponential",
  "lognormal",
  "loglogistic",
  "gamma",
  "smallest extreme value",
  "normal",
  "generalised gamma",
  "three-parameter weibull",
] as const;

describe.each<Mix>(["exact and right", "between looks", "truncated", "everything"])("lives %s", (mix) => {
  const few = randomLives(41, 700, mix);
  const twice = [...few, ...few];
  test.each(laws)("%s: written twice is the same law, with twice the log likelihood", (law) => {
    expect(twice.length).toBeGreaterThan(MANY_LIVES);
    const once = fitLaw(lifeSample({ unit: "h", lives: few }), law);
    const many = fitLaw(lifeSample({ unit: "h", lives: twice }), law);
    expect(many.maximum).toBe(once.maximum);
    if (once.maximum !== "found" || many.maximum !== "found") return;
    expect(many.logLikelihood / once.logLikelihood).toBeCloseTo(2, 10);
    expect(many.largestScore).toBeLessThan(1e-8);
    for (const [name, value] of Object.entries(once.parameters)) {
      const error = once.standardErrors[name] ?? Number.NaN;
      expect(Math.abs((many.parameters[name] ?? Number.NaN) - value) / error, name).toBeLessThan(1e-6);
      expect((many.standardErrors[name] ?? Number.NaN) / error, name).toBeCloseTo(Math.SQRT1_2, 6);
    }
  });
});

describe("condensed lives", () => {
  const sample = lifeSample({ unit: "h", lives: randomLives(7, 4_000, "everything") });
  const few = condensedSample(sample);

  test("are a few hundred, with all the counts", () => {
    expect(few.n).toBeLessThan(1_000);
    expect(few.count.reduce((sum, count) => sum + count, 0)).toBeCloseTo(4_000, 8);
  });

  test("keep the order of their ends", () => {
    for (let row = 0; row < few.n; row++) {
      expect(few.lower[row]).toBeLessThanOrEqual(few.upper[row]!);
      expect(few.lower[row]).toBeLessThanOrEqual(few.lowerHigh[row]!);
      expect(few.entry[row]).toBeLessThanOrEqual(few.lower[row]!);
    }
  });

  test("keep the first and the last failure as they are", () => {
    const exact = (lives: typeof sample): number[] =>
      [...lives.lower].filter((lower, row) => lower === lives.upper[row] && lower === lives.lowerHigh[row]);
    expect(Math.min(...exact(few))).toBe(Math.min(...exact(sample)));
    expect(Math.max(...exact(few))).toBe(Math.max(...exact(sample)));
  });
});
