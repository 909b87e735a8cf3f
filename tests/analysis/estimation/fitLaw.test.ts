import { describe, expect, test } from "vitest";
import { type LawName, lawFamilies } from "../../../analysis/distributions/lawFamilies.ts";
import { lifeLaw } from "../../../analysis/distributions/lifeLaw.ts";
import { AnalysisError } from "../../../analysis/errors.ts";
import { fitLaw, type LawFound } from "../../../analysis/estimation/fitLaw.ts";
import { lawBounds } from "../../../analysis/estimation/lawBounds.ts";
import type { LawQuantity } from "../../../analysis/estimation/lawQuantity.ts";
import { lawQuantity } from "../../../analysis/estimation/lawQuantity.ts";
import { lawWaldBounds } from "../../../analysis/estimation/lawWaldBounds.ts";
import { type LifeInput, lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { weibullBounds } from "../../../analysis/estimation/profileBounds.ts";
import type { LifeSample } from "../../../analysis/estimation/types.ts";
import { failed, found, running } from "../../support/estimation/found.ts";
import { type Mix, randomLives } from "../../support/estimation/randomLives.ts";
import { slowLawLogLikelihood } from "../../support/estimation/slowLaw.ts";

function foundLaw(lives: readonly LifeInput[], law: LawName): { readonly fit: LawFound; readonly sample: LifeSample } {
  const sample = lifeSample({ unit: "h", lives });
  const fit = fitLaw(sample, law);
  if (fit.maximum !== "found") throw new Error(`${law}: ${fit.maximum}`);
  return { fit, sample };
}
const closeTo = (value: number, expected: number, tolerance: number): void => {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(tolerance * Math.abs(expected));
};
const scaled = (life: LifeInput, factor: number): LifeInput => ({
  ...life,
  lower: life.lower * factor,
  upper: life.upper === null ? null : life.upper * factor,
  ...(life.entry === undefined ? {} : { entry: life.entry * factor }),
  ...(life.lowerHigh === undefined ? {} : { lowerHigh: life.lowerHigh * factor }),
  ...(life.upperHigh === undefined || life.upperHigh === null ? {} : { upperHigh: life.upperHigh * factor }),
});

const twoParameter: readonly LawName[] = [
  "weibull",
  "exponential",
  "lognormal",
  "loglogistic",
  "gamma",
  "smallest extreme value",
  "normal",
];
const mixes: readonly Mix[] = ["exact and right", "between looks", "truncated", "ranged", "everything"];

describe.each(twoParameter)("laws of the estimate: %s", (law) => {
  describe.each(mixes)("lives %s", (mix) => {
    const lives = randomLives(7, 48, mix);
    const { fit, sample } = foundLaw(lives, law);

    test("the score is zero, and no law around it does better by a second implementation", () => {
      expect(fit.largestScore).toBeLessThan(1e-7);
      const best = slowLawLogLikelihood(sample, lifeLaw(law, fit.parameters));
      expect(Math.abs(fit.logLikelihood - best)).toBeLessThan(2e-5);
      for (const turn of [0, 1, 2, 3, 4, 5]) {
        const moved = Object.fromEntries(
          Object.entries(fit.parameters).map(([name, value], i) => [
            name,
            value + 0.2 * (fit.standardErrors[name] ?? 0) * Math.cos((turn * Math.PI) / 3 - (i * Math.PI) / 2),
          ]),
        );
        expect(slowLawLogLikelihood(sample, lifeLaw(law, moved))).toBeLessThan(best);
      }
    });

    test("hours to days moves ages and nothing else; order does not matter; a count of 2 is two like rows", () => {
      const median: LawQuantity = { kind: "quantile", failedFraction: 0.5 };
      const days = foundLaw(
        lives.map((life) => scaled(life, 1 / 24)),
        law,
      ).fit;
      closeTo(24 * lawQuantity(days, median), lawQuantity(fit, median), 1e-9);
      const reversed = foundLaw([...lives].reverse(), law).fit;
      closeTo(lawQuantity(reversed, median), lawQuantity(fit, median), 1e-11);
      for (const double of [[...lives, ...lives], lives.map((life) => ({ ...life, count: 2 }))]) {
        const twice = foundLaw(double, law).fit;
        closeTo(lawQuantity(twice, median), lawQuantity(fit, median), 1e-9);
        closeTo(2 * (twice.covariance.matrix[0]?.[0] ?? 0), fit.covariance.matrix[0]?.[0] ?? 1, 1e-6);
        closeTo(twice.logLikelihood, 2 * fit.logLikelihood, 1e-11);
      }
    });
  });
});

test("zero width equals exact, and a narrow interval has the density of an exact age, for every law", () => {
  const ages = [52, 61, 80, 96, 121, 133, 170];
  const rest = running(90, 140, 190);
  for (const law of twoParameter) {
    const exact = foundLaw([...failed(...ages), ...rest], law).fit;
    const zero = foundLaw(
      [...ages.map((age) => ({ lower: age, lowerHigh: age, upper: age, upperHigh: age })), ...rest],
      law,
    ).fit;
    expect(zero).toEqual(exact);
    const width = 1e-5;
    const narrow = foundLaw(
      [...ages.map((age) => ({ lower: age - width / 2, upper: age + width / 2 })), ...rest],
      law,
    ).fit;
    closeTo(narrow.logLikelihood - ages.length * Math.log(width), exact.logLikelihood, 1e-8);
    for (const [name, value] of Object.entries(exact.parameters)) closeTo(narrow.parameters[name] ?? 0, value, 1e-7);
  }
});

test.each(mixes)(
  "the Weibull law by this engine is the one of the Weibull engine, bounds included: lives %s",
  (mix) => {
    const lives = randomLives(21, 40, mix);
    const { fit, sample } = foundLaw(lives, "weibull");
    const other = found(lives).fit;
    closeTo(fit.parameters.shape ?? 0, other.shape, 1e-8);
    closeTo(fit.parameters.scale ?? 0, other.scale, 1e-8);
    closeTo(fit.logLikelihood, other.logLikelihood, 1e-10);
    closeTo(fit.covariance.matrix[0]?.[0] ?? 0, other.covariance.logShape, 1e-6);
    const pairs = [
      [{ kind: "parameter", name: "shape" }, { kind: "shape" }],
      [
        { kind: "quantile", failedFraction: 0.1 },
        { kind: "quantile", failedFraction: 0.1 },
      ],
      [
        { kind: "survival", age: 100 },
        { kind: "survival", age: 100 },
      ],
      [{ kind: "mean" }, { kind: "mean" }],
    ] as const;
    for (const [mine, theirs] of pairs) {
      const [one, two] = [lawBounds(fit, sample, mine, 0.9), weibullBounds(other, sample, theirs, 0.9)];
      closeTo(one.lower ?? 0, two.lower ?? 1, 1e-7);
      closeTo(one.upper ?? 0, two.upper ?? 1, 1e-7);
    }
  },
);

test("the exponential law is the Weibull law of shape 1: failures over hours, log likelihood no better", () => {
  const lives = [...failed(20, 50, 90, 200), ...running(100, 300)];
  const { fit } = foundLaw(lives, "exponential");
  closeTo(fit.parameters.scale ?? 0, 760 / 4, 1e-12);
  closeTo(fit.logLikelihood, -4 * Math.log(190) - 4, 1e-12);
  closeTo(fit.covariance.matrix[0]?.[0] ?? 0, 1 / 4, 1e-9);
  expect(fit.logLikelihood).toBeLessThan(foundLaw(lives, "weibull").fit.logLikelihood);
});

test("normal and lognormal laws of complete data have the mean and the deviation of the data", () => {
  const ages = [31, 44, 52, 60, 75, 98];
  const mean = ages.reduce((sum, age) => sum + age, 0) / ages.length;
  const variance = ages.reduce((sum, age) => sum + (age - mean) ** 2, 0) / ages.length;
  const { fit } = foundLaw(failed(...ages), "normal");
  closeTo(fit.parameters.mu ?? 0, mean, 1e-12);
  closeTo(fit.parameters.sigma ?? 0, Math.sqrt(variance), 1e-12);
  const logs = foundLaw(failed(...ages.map((age) => Math.exp(age / 30))), "lognormal").fit;
  closeTo(logs.parameters.mu ?? 0, mean / 30, 1e-12);
  closeTo(logs.parameters.sigma ?? 0, Math.sqrt(variance) / 30, 1e-12);
});

test.each([...twoParameter, "generalised gamma" as const])(
  "%s: bounds grow with confidence and hold the estimate; at each end twice the drop is the chi-square quantile",
  (law) => {
    const { fit, sample } = foundLaw(
      randomLives(5, 60, law === "generalised gamma" ? "between looks" : "everything"),
      law,
    );
    const quantities: LawQuantity[] = [
      ...lawFamilies[law].parameters.map(({ name }): LawQuantity => ({ kind: "parameter", name })),
      { kind: "quantile", failedFraction: 0.1 },
      { kind: "survival", age: 150 },
      { kind: "mean" },
    ];
    for (const quantity of quantities) {
      const value = lawQuantity(fit, quantity);
      const narrow = lawBounds(fit, sample, quantity, 0.5);
      const wide = lawBounds(fit, sample, quantity, 0.9);
      const below = wide.lower ?? Number.NEGATIVE_INFINITY;
      const above = wide.upper ?? Number.POSITIVE_INFINITY;
      expect([below, narrow.lower, value, narrow.upper, above]).toEqual(
        [below, narrow.lower ?? Number.NaN, value, narrow.upper ?? Number.NaN, above].sort((a, b) => a - b),
      );
      // For small confidence both methods are the same to first order.
      const [tiny, wald] = [lawBounds(fit, sample, quantity, 0.01), lawWaldBounds(fit, quantity, 0.01)];
      const size = (wald.upper - wald.lower) / ((tiny.upper ?? 0) - (tiny.lower ?? 0));
      expect(Math.abs(size - 1)).toBeLessThan(2e-3);
    }
  },
);

describe("where there is no maximum", () => {
  const reason = (lives: readonly LifeInput[], law: LawName): string =>
    fitLaw(lifeSample({ unit: "h", lives }), law).maximum;
  test.each(twoParameter)("%s: without failures, or with all failures at one age", (law) => {
    expect(reason(running(10, 20), law)).toBe("no failures");
    const tied = reason([...failed(50, 50, 50), ...running(30)], law);
    expect(tied).toBe(law === "exponential" ? "found" : "shape not bounded above");
  });
  test.each(["weibull", "lognormal", "loglogistic"] as const)(
    "%s: as many failed early as late means a flat law",
    (law) => {
      const lives = [
        { lower: 0, upper: 10 },
        { lower: 0, upper: 1000 },
        { lower: 10, upper: null },
        { lower: 1000, upper: null },
      ];
      expect(reason(lives, law)).toBe("scale not bounded");
    },
  );
  test("exponential: everything found failed at its first look", () => {
    expect(
      reason(
        [
          { lower: 0, upper: 10 },
          { lower: 0, upper: 20 },
        ],
        "exponential",
      ),
    ).toBe("scale not bounded");
  });
  test("three-parameter Weibull law: lives that the exponential law describes rise towards the first failure", () => {
    const lives = failed(...Array.from({ length: 12 }, (_, i) => 100 - 90 * Math.log(1 - (i + 0.2) / 12)));
    expect(reason(lives, "three-parameter weibull")).toBe("no interior maximum");
  });
  test("a failure at age 0 is refused", () => {
    expect(() => reason(failed(0, 10), "lognormal")).toThrow(AnalysisError);
  });
});

test("three-parameter Weibull law: a shift of all ages is a shift of the threshold", () => {
  const ages = [17.9, 28.9, 33, 41.5, 42.1, 45.6, 48.8, 51.8, 52, 54.1, 55.6, 67.8, 68.6, 84.1, 93.1, 105.1, 127.9];
  const { fit, sample } = foundLaw(failed(...ages), "three-parameter weibull");
  expect(fit.unboundedElsewhere).toBe(true);
  const shifted = foundLaw(failed(...ages.map((age) => age + 100)), "three-parameter weibull");
  closeTo(shifted.fit.parameters.threshold ?? 0, (fit.parameters.threshold ?? 0) + 100, 1e-8);
  closeTo(shifted.fit.parameters.shape ?? 0, fit.parameters.shape ?? 1, 1e-7);
  closeTo(shifted.fit.logLikelihood, fit.logLikelihood, 1e-10);
  const quantity: LawQuantity = { kind: "quantile", failedFraction: 0.1 };
  const [one, two] = [lawBounds(fit, sample, quantity, 0.9), lawBounds(shifted.fit, shifted.sample, quantity, 0.9)];
  closeTo(two.lower ?? 0, (one.lower ?? 1) + 100, 1e-7);
  closeTo(two.upper ?? 0, (one.upper ?? 1) + 100, 1e-7);
});
