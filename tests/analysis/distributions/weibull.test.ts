import { describe, expect, test } from "vitest";
import { weibull } from "../../../analysis/distributions/weibull.ts";
import { gaussLegendre } from "../../../analysis/numerics/index.ts";

// NIST/SEMATECH e-Handbook of Statistical Methods, section 8.4.1.3: printed mean and standard deviation of the fitted law.
test("mean and standard deviation of the fitted law of the NIST handbook", () => {
  const law = weibull({ shape: 1.7208, scale: 606.528 });
  expect(Math.abs(law.mean - 540.737)).toBeLessThan(0.02);
  expect(Math.abs(Math.sqrt(law.variance) - 323.806)).toBeLessThan(0.05);
});

test("shape 1 is exponential, shape 2 is Rayleigh: exact values", () => {
  const exponential = weibull({ shape: 1, scale: 100 });
  expect(exponential.survival(50)).toBeCloseTo(Math.exp(-0.5), 15);
  expect(exponential.hazard(0)).toBeCloseTo(0.01, 16);
  expect(exponential.mean).toBeCloseTo(100, 12);
  expect(exponential.variance).toBeCloseTo(10_000, 9);
  const rayleigh = weibull({ shape: 2, scale: 10 });
  expect(rayleigh.mean).toBeCloseTo(5 * Math.sqrt(Math.PI), 12);
  expect(rayleigh.hazard(5)).toBeCloseTo(0.1, 15);
  expect(rayleigh.quantile(1 - Math.exp(-1))).toBeCloseTo(10, 12);
});

// Own worked example of the trade note 6.3: shape 2, scale 400 h, a run of 100 h.
test("a 100 h run: 0.939 new, 0.779 after 150 h, 0.732 after 200 h", () => {
  const law = weibull({ shape: 2, scale: 400 });
  expect(law.conditionalSurvival(0, 100)).toBeCloseTo(Math.exp(-1 / 16), 14);
  expect(law.conditionalSurvival(150, 100)).toBeCloseTo(Math.exp(-(250 ** 2 - 150 ** 2) / 160_000), 14);
  expect([0, 150, 200].map((age) => law.conditionalSurvival(age, 100).toFixed(3))).toEqual(["0.939", "0.779", "0.732"]);
});

describe("both tails keep their digits", () => {
  const law = weibull({ shape: 3, scale: 200 });

  test("a failed fraction of 1e-18 is not rounded to 0, nor a survival of 1e-200", () => {
    expect(law.failedFraction(2e-4) / 1e-18).toBeCloseTo(1, 12);
    expect(law.logFailedFraction(2e-130)).toBeCloseTo(3 * Math.log(1e-132), 9);
    const far = law.survivalQuantile(1e-200);
    expect(law.logSurvival(far)).toBeCloseTo(-200 * Math.LN10, 9);
    expect(law.quantile(1e-18) / 2e-4).toBeCloseTo(1, 12);
    expect(law.conditionalSurvival(100, 1e-12)).toBeLessThanOrEqual(1);
    expect(Math.log(law.conditionalSurvival(1e6, 1e-6)) / (-law.hazard(1e6) * 1e-6)).toBeCloseTo(1, 8);
  });

  test("density is hazard times survival and integrates to the failed fraction", () => {
    const { nodes, weights } = gaussLegendre(32);
    const integral = nodes.reduce((sum, x, i) => sum + (weights[i] ?? 0) * 250 * law.density(250 * x), 0);
    expect(integral).toBeCloseTo(law.failedFraction(250), 12);
    expect(law.density(170)).toBeCloseTo(law.hazard(170) * law.survival(170), 15);
    expect(law.cumulativeHazard(170)).toBeCloseTo(-Math.log(law.survival(170)), 13);
  });

  test("at age 0: infinite, finite or no density as the shape is below, at or above 1", () => {
    expect(weibull({ shape: 0.5, scale: 2 }).density(0)).toBe(Infinity);
    expect(weibull({ shape: 1, scale: 2 }).density(0)).toBeCloseTo(0.5, 15);
    expect(weibull({ shape: 2, scale: 2 }).density(0)).toBe(0);
  });
});

test("refuses a shape or scale that is not a number above 0, and a fraction outside [0, 1]", () => {
  expect(() => weibull({ shape: 0, scale: 1 })).toThrowError(/bad-setting.*shape/);
  expect(() => weibull({ shape: 1, scale: Number.NaN })).toThrowError(/bad-setting.*scale/);
  expect(() => weibull({ shape: 1, scale: 1 }).quantile(1.2)).toThrowError(/bad-setting/);
});
