// Second implementation (tests/support/practice/slowLifeRegression.ts), another method of this project (ratio of lives), and laws.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ratioOfLives } from "../../../analysis/estimation/groups/ratioOfLives.ts";
import { type LifeInput, lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { factorPositive } from "../../../analysis/practice/common/factorPositive.ts";
import { standardiseDesign } from "../../../analysis/practice/common/standardiseDesign.ts";
import { fitLifeRegression } from "../../../analysis/practice/life/fitLifeRegression.ts";
import { lifeQuantile } from "../../../analysis/practice/life/lifeQuantile.ts";
import { lifeRegressionBounds } from "../../../analysis/practice/life/lifeRegressionBounds.ts";
import { regressionRows } from "../../../analysis/practice/life/regressionRows.ts";
import { regressionSurface } from "../../../analysis/practice/life/regressionSurface.ts";
import type { LifeRegressionFound, LifeRegressionInput, RegressionLaw } from "../../../analysis/practice/types.ts";
import { designOf, randomRegression } from "../../support/practice/randomRegression.ts";
import { slowLifeRegression } from "../../support/practice/slowLifeRegression.ts";

const laws: readonly RegressionLaw[] = ["weibull", "exponential", "lognormal", "loglogistic"];
const sampleOf = (lives: readonly LifeInput[]) => lifeSample({ unit: "h", lives });

function fitted(input: LifeRegressionInput): LifeRegressionFound {
  const fit = fitLifeRegression(input);
  if (fit.maximum !== "found") throw new Error(fit.maximum);
  return fit;
}

function robustVariance(fit: LifeRegressionFound, j: number): number {
  return fit.robustCovariance?.matrix[j]?.[j] ?? Number.NaN;
}

describe.each(laws)("%s, every kind of life", (law) => {
  const { lives, design } = randomRegression(5, 40, "everything");
  const sample = sampleOf(lives);
  const fit = fitted({ sample, design, law });

  test("the log likelihood is that of each life under a law of its own", () => {
    // Midpoint sums of 2,000 steps over the ranges.
    expect(fit.logLikelihood).toBeCloseTo(slowLifeRegression(sample, design, law, fit.coefficients, fit.spread), 3);
  });

  test("the second implementation is flat there, and curves as the covariance says", () => {
    const m = fit.covariance.names.length;
    const information = factorPositive(Float64Array.from(fit.covariance.matrix.flat()), m)?.inverse();
    const slowAt = (j: number, step: number): number =>
      slowLifeRegression(
        sample,
        design,
        law,
        fit.coefficients.map((b, i) => (i === j ? b + step : b)),
        j === fit.coefficients.length ? fit.spread * Math.exp(step) : fit.spread,
      );
    const top = slowAt(-1, 0);
    for (let j = 0; j < m; j++) {
      const curve = information?.[j * m + j] ?? Number.NaN;
      const step = 0.1 / Math.sqrt(curve);
      const [up, down] = [slowAt(j, step) - top, slowAt(j, -step) - top];
      // Half a squared step times the information, 0.005, and no slope.
      expect(-0.5 * (up + down)).toBeCloseTo(0.005, 4);
      expect(up - down).toBeCloseTo(0, 3);
    }
  });

  test("analytic derivatives are those of differences", () => {
    const surface = regressionSurface(regressionRows(sample, law), standardiseDesign(design, sample.count), law, {
      deviation: 0.7,
    });
    const m = surface.dimension;
    const at = [5.6, -0.3, 0.2, ...(law === "exponential" ? [] : [-0.4])];
    const [gradient, hessian] = [new Float64Array(m), new Float64Array(m * m)];
    surface.evaluate(at, gradient, hessian);
    const near = (i: number, step: number): { value: number; gradient: Float64Array } => {
      const slopes = new Float64Array(m);
      const value = surface.evaluate(
        at.map((x, j) => (j === i ? x + step : x)),
        slopes,
        new Float64Array(m * m),
      );
      return { value, gradient: slopes };
    };
    for (let i = 0; i < m; i++) {
      const [up, down] = [near(i, 1e-5), near(i, -1e-5)];
      expect(gradient[i]).toBeCloseTo((up.value - down.value) / 2e-5, 4);
      for (let j = 0; j < m; j++) {
        const difference = (up.gradient[j]! - down.gradient[j]!) / 2e-5;
        expect(hessian[i * m + j]! / (1 + Math.abs(difference))).toBeCloseTo(
          difference / (1 + Math.abs(difference)),
          5,
        );
      }
    }
  });

  test("hours to days moves the intercept by log 24 and nothing else", () => {
    const days = sampleOf(
      lives.map((life) => ({
        ...life,
        lower: life.lower / 24,
        upper: life.upper === null ? null : life.upper / 24,
        entry: (life.entry ?? 0) / 24,
        ...(life.lowerHigh === undefined ? {} : { lowerHigh: life.lowerHigh / 24 }),
        ...(life.upperHigh === undefined || life.upperHigh === null ? {} : { upperHigh: life.upperHigh / 24 }),
      })),
    );
    const other = fitted({ sample: days, design, law });
    expect(other.coefficients[0]).toBeCloseTo(fit.coefficients[0]! - Math.log(24), 7);
    expect(other.coefficients[1]).toBeCloseTo(fit.coefficients[1]!, 8);
    expect(other.spread).toBeCloseTo(fit.spread, 8);
  });
});

describe("laws that any fit obeys", () => {
  const input = (seed: number): LifeRegressionInput => {
    const { lives, design, tools } = randomRegression(seed, 60, "everything");
    return { sample: sampleOf(lives), design, law: "weibull", clusters: tools };
  };

  test("the order of the lives never matters, and a count of c is c rows", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10_000 }), (seed) => {
        const { lives, design, tools } = randomRegression(seed, 60, "exact and right");
        const fit = fitted({ sample: sampleOf(lives), design, law: "weibull", clusters: tools });
        const rows = lives.flatMap((life, i) => Array.from({ length: life.count ?? 1 }, () => ({ life, i }))).reverse();
        const again = fitted({
          sample: sampleOf(rows.map(({ life }) => ({ ...life, count: 1 }))),
          design: designOf(
            design.names,
            rows.map(({ i }) => [...design.values.subarray(2 * i, 2 * i + 2)]),
          ),
          law: "weibull",
          clusters: rows.map(({ i }) => tools[i] ?? ""),
        });
        expect(again.logLikelihood).toBeCloseTo(fit.logLikelihood, 7);
        again.coefficients.forEach((b, j) => {
          expect(b).toBeCloseTo(fit.coefficients[j]!, 7);
          expect(robustVariance(again, j) / robustVariance(fit, j)).toBeCloseTo(1, 6);
        });
      }),
      { numRuns: 25 },
    );
  });

  test("another unit and origin of a column scales its coefficient and leaves likelihood, readings and errors alone", () => {
    const one = input(3);
    const { rows, names, values } = one.design;
    const other = designOf(
      names,
      Array.from({ length: rows }, (_, i) => [values[2 * i]!, (values[2 * i + 1]! - 3000) / 1.356]),
    );
    const [first, second] = [fitted(one), fitted({ ...one, design: other })];
    expect(second.coefficients[2]).toBeCloseTo(first.coefficients[2]! * 1.356, 9);
    expect(second.logLikelihood).toBeCloseTo(first.logLikelihood, 9);
    const [a, b] = [lifeQuantile(first, [1, 3200], 0.1), lifeQuantile(second, [1, 200 / 1.356], 0.1)];
    expect(a.value / b.value).toBeCloseTo(1, 8);
    expect(a.lower / b.lower).toBeCloseTo(1, 8);
  });

  test("doubled counts halve every variance", () => {
    const one = input(4);
    const doubled = { ...one.sample, count: one.sample.count.map((count) => 2 * count) };
    const [first, second] = [fitted(one), fitted({ ...one, sample: doubled })];
    expect(first.covariance.matrix[1]![1]! / second.covariance.matrix[1]![1]!).toBeCloseTo(2, 8);
  });

  test("clusters of one life each give White's sandwich: the sum of squared scores between two inverse informations", () => {
    const { lives, design } = randomRegression(8, 50, "exact and right");
    const sample = sampleOf(lives.map((life) => ({ ...life, count: 1 })));
    const fit = fitted({ sample, design, law: "exponential", clusters: lives.map((_, i) => `${i}`) });
    // Score of an exponential life: x (age / mean - failed).
    const x = lives.map((_, i) => [1, ...design.values.subarray(2 * i, 2 * i + 2)]);
    const score = lives.map(({ lower, upper }, i) => {
      const mean = Math.exp(x[i]!.reduce((sum, value, j) => sum + value * fit.coefficients[j]!, 0));
      return x[i]!.map((value) => value * (lower / mean - (upper === null ? 0 : 1)));
    });
    const along = score.map((u) => fit.covariance.matrix[1]!.reduce((sum, v, j) => sum + v * u[j]!, 0));
    const variance = along.reduce((sum, value) => sum + value * value, 0);
    expect(robustVariance(fit, 1) / variance).toBeCloseTo(1, 8);
  });
});

describe("bounds by likelihood ratio", () => {
  test("of one factor of two levels they are those of the ratio of lives with a common shape", () => {
    const { lives, design } = randomRegression(11, 60, "between looks");
    const worn = designOf(
      ["worn"],
      lives.map((_, i) => [design.values[2 * i]!]),
    );
    const input = { sample: sampleOf(lives), design: worn, law: "weibull" } as const;
    const [bounds] = lifeRegressionBounds(fitted(input), input, { confidence: 0.9 });
    const ratio = ratioOfLives(
      sampleOf(lives.filter((_, i) => worn.values[i] === 1)),
      sampleOf(lives.filter((_, i) => worn.values[i] === 0)),
      { confidence: 0.9, shapes: "common" },
    );
    if (ratio.maximum !== "found") throw new Error(ratio.maximum);
    expect(bounds?.estimate).toBeCloseTo(Math.log(ratio.value), 6);
    expect(bounds?.lower).toBeCloseTo(Math.log(ratio.lower!), 7);
    expect(bounds?.upper).toBeCloseTo(Math.log(ratio.upper!), 7);
  });

  test("they do not depend on the unit of the column", () => {
    const { lives, design } = randomRegression(12, 60, "truncated");
    const scaled = { ...design, values: design.values.map((value, at) => (at % 2 === 1 ? value * 1e3 : value)) };
    const [a, b] = [design, scaled].map((one) => {
      const input = { sample: sampleOf(lives), design: one, law: "lognormal" } as const;
      return lifeRegressionBounds(fitted(input), input, { names: ["torque"] })[0]!;
    });
    expect(b!.lower! * 1e3).toBeCloseTo(a!.lower!, 9);
    expect(b!.upper! * 1e3).toBeCloseTo(a!.upper!, 9);
  });
});

describe("where there is no maximum", () => {
  const rows = [30, 45, 60, 75, 90, 120].map((age, i) => ({ age, worn: i % 2 }));
  const separated = {
    sample: sampleOf(rows.map(({ age, worn }) => ({ lower: age, upper: worn === 1 ? age : null }))),
    design: designOf(
      ["worn"],
      rows.map(({ worn }) => [worn]),
    ),
  };

  test.each(laws)("%s: a group without failures is said, with its direction; a penalty bounds it", (law) => {
    const fit = fitLifeRegression({ ...separated, law });
    expect(fit).toMatchObject({ maximum: "separated", unbounded: [{ name: "worn", towards: "shorter life" }] });
    const penalised = fitted({ ...separated, law, penalty: { deviation: 1 } });
    expect(penalised.coefficients[1]).toBeLessThan(0);
    expect(penalised.coefficients[1]).toBeGreaterThan(-6);
    expect(penalised.notices.map(({ code }) => code)).toContain("penalised");
    expect(penalised.penalisedLogLikelihood).toBeLessThan(penalised.logLikelihood);
  });

  test("the penalty is a normal prior for one standard deviation of the column, whatever its unit", () => {
    const fit = fitted({ ...separated, law: "weibull", penalty: { deviation: 1 } });
    // The column is 0 or 1 in halves: its deviation is 1/2, so the coefficient itself has prior deviation 2.
    expect(fit.logLikelihood - fit.penalisedLogLikelihood).toBeCloseTo(0.5 * (fit.coefficients[1]! / 2) ** 2, 10);
    const inches = { ...separated.design, values: separated.design.values.map((value) => value / 25.4) };
    const other = fitted({ ...separated, design: inches, law: "weibull", penalty: { deviation: 1 } });
    expect(other.coefficients[1]! / 25.4).toBeCloseTo(fit.coefficients[1]!, 9);
  });

  test("a column that is a sum of others, or constant, is named", () => {
    const design = designOf(
      ["a", "b", "a plus b", "same"],
      rows.map(({ worn }, i) => [worn, i, worn + i, 7]),
    );
    const fit = fitLifeRegression({ ...separated, design, law: "weibull" });
    expect(fit).toMatchObject({ maximum: "columns dependent", dependent: ["a plus b", "same"] });
  });

  test("no failures, and columns that explain every life exactly", () => {
    const sound = sampleOf(rows.map(({ age }) => ({ lower: age, upper: null })));
    expect(fitLifeRegression({ ...separated, sample: sound, law: "weibull" }).maximum).toBe("no failures");
    const tied = sampleOf(rows.map(({ worn }) => ({ lower: 10 + 5 * worn, upper: 10 + 5 * worn })));
    expect(fitLifeRegression({ ...separated, sample: tied, law: "lognormal" }).maximum).toBe("spread shrinks to 0");
  });

  test("a design that does not fit the lives is refused, naming the cell", () => {
    const bad = { ...separated.design, values: separated.design.values.map((v, i) => (i === 3 ? Number.NaN : v)) };
    expect(() => fitLifeRegression({ ...separated, design: bad, law: "weibull" })).toThrow(/worn of the design, row 4/);
    expect(() => fitLifeRegression({ ...separated, law: "weibull", clusters: ["a"] })).toThrow(/clusters/);
    expect(() => fitLifeRegression({ ...separated, law: "weibull", penalty: { deviation: 0 } })).toThrow(/penalty/);
  });
});
