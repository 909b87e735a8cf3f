// Reference values: 50-digit arithmetic with mpmath 1.3.0, the commands beside them; otherwise laws that hold exactly.
import { describe, expect, test } from "vitest";
import type { LawName } from "../../../analysis/distributions/lawFamilies.ts";
import { lifeLaw } from "../../../analysis/distributions/lifeLaw.ts";
import { weibull } from "../../../analysis/distributions/weibull.ts";
import { AnalysisError } from "../../../analysis/errors.ts";

const laws: readonly (readonly [LawName, Readonly<Record<string, number>>])[] = [
  ["weibull", { shape: 1.7, scale: 100 }],
  ["weibull", { shape: 0.6, scale: 100 }],
  ["exponential", { scale: 100 }],
  ["lognormal", { sigma: 0.7, mu: 4 }],
  ["loglogistic", { shape: 2.3, scale: 80 }],
  ["gamma", { shape: 2.5, scale: 40 }],
  ["gamma", { shape: 0.4, scale: 200 }],
  ["gamma", { shape: 60, scale: 1.5 }],
  ["generalised gamma", { sigma: 0.6, Q: 0.4, mu: 4 }],
  ["generalised gamma", { sigma: 0.6, Q: 0.05, mu: 4 }],
  ["generalised gamma", { sigma: 0.6, Q: -0.8, mu: 4 }],
  ["generalised gamma", { sigma: 0.6, Q: 2.5, mu: 4 }],
  ["smallest extreme value", { sigma: 20, mu: 100 }],
  ["normal", { sigma: 20, mu: 100 }],
  ["three-parameter weibull", { shape: 1.5, scale: 80, threshold: 20 }],
];
const close = (value: number, expected: number, tolerance: number): void => {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(tolerance * Math.abs(expected));
};

describe.each(laws)("%s %j", (name, parameters) => {
  const law = lifeLaw(name, parameters);
  const ages = [21, 35, 60, 95, 150];

  test("density is the slope of the failed fraction, hazard its share of the survivors", () => {
    for (const age of ages) {
      const h = 1e-3;
      const f = (x: number): number => law.failedFraction(age + x);
      close((f(-2 * h) - 8 * f(-h) + 8 * f(h) - f(2 * h)) / (12 * h), law.density(age), 3e-8);
      close(law.survival(age) + law.failedFraction(age), 1, 1e-14);
      close(law.hazard(age), law.density(age) / law.survival(age), 1e-12);
      expect(law.cumulativeHazard(age)).toBe(-law.logSurvival(age));
    }
  });

  test("quantiles invert either tail, far out too", () => {
    // Just above a threshold the age itself has no digits left for the smallest fraction.
    const least = name === "three-parameter weibull" ? 1e-6 : 1e-12;
    for (const p of [least, 1e-4, 0.1, 0.5, 0.9]) close(law.failedFraction(law.quantile(p)), p, 1e-10);
    for (const s of [1e-200, 1e-30, 1e-6, 0.3]) close(law.survival(law.survivalQuantile(s)), s, 1e-9);
  });

  test("a stretch survived on condition is the ratio of survivals", () => {
    close(law.conditionalSurvival(35, 60), law.survival(95) / law.survival(35), 1e-12);
    expect(law.conditionalSurvival(35, 0)).toBe(1);
  });

  test("residual life: d m/dt = h m - 1, and from the beginning it is the mean", () => {
    const h = 0.02;
    const residual = (age: number): number => law.meanResidualLife(age);
    const slope =
      (residual(60 - 2 * h) - 8 * residual(60 - h) + 8 * residual(60 + h) - residual(60 + 2 * h)) / (12 * h);
    expect(slope).toBeCloseTo(law.hazard(60) * residual(60) - 1, 7);
    const begin = name === "normal" || name === "smallest extreme value" ? -300 : 1e-20;
    close(residual(begin) + begin, law.mean, 1e-6);
  });
});

test("upper and lower tails agree with 50-digit arithmetic where the value itself has underflowed", () => {
  // mpmath: log(gammainc(k, k*exp(Q*w), inf, regularized=True)) and the other tail for Q < 0
  close(lifeLaw("generalised gamma", { sigma: 0.6, Q: 0.4, mu: 4 }).logSurvival(5000), -106.72827735588135, 1e-12);
  close(lifeLaw("generalised gamma", { sigma: 0.6, Q: 0.1, mu: 4 }).logFailedFraction(1), -20.530637783741284, 1e-12);
  // mpmath: log(erfc(w/sqrt(2))/2), w = (log(1e15) - 4)/0.7
  close(lifeLaw("lognormal", { sigma: 0.7, mu: 4 }).logSurvival(1e15), -956.3449963421488, 1e-13);
  // mpmath: log(gammainc(60, 900, inf, regularized=True)), log(gammainc(60, 0, 0.5, regularized=True))
  close(lifeLaw("gamma", { shape: 60, scale: 2 }).logSurvival(1800), -683.1248179250956, 1e-12);
  close(lifeLaw("gamma", { shape: 60, scale: 2 }).logFailedFraction(1), -230.70877485918587, 1e-12);
});

test("the Weibull law is the one of its own module", () => {
  const parameters = { shape: 1.7, scale: 100 };
  const [one, other] = [lifeLaw("weibull", parameters), weibull(parameters)];
  for (const age of [0, 1e-6, 40, 100, 900]) {
    expect(one.logSurvival(age)).toBeCloseTo(other.logSurvival(age), 10);
    close(one.density(age), other.density(age), 1e-12);
  }
  close(one.mean, other.mean, 1e-14);
});

test("Q = 1 is the Weibull law, Q = 0 the lognormal, Q = sigma the gamma law, and the way to Q = 0 has no step", () => {
  const [sigma, mu] = [0.6, 4];
  const same: readonly (readonly [number, LawName, Readonly<Record<string, number>>])[] = [
    [1, "weibull", { shape: 1 / sigma, scale: Math.exp(mu) }],
    [0, "lognormal", { sigma, mu }],
    [sigma, "gamma", { shape: sigma ** -2, scale: Math.exp(mu) * sigma ** 2 }],
  ];
  for (const [Q, name, parameters] of same) {
    const [one, other] = [lifeLaw("generalised gamma", { sigma, Q, mu }), lifeLaw(name, parameters)];
    for (const age of [0.5, 20, 60, 300, 2000]) {
      close(one.logDensity(age), other.logDensity(age), 1e-12);
      close(one.logSurvival(age), other.logSurvival(age), 1e-12);
      close(one.logFailedFraction(age), other.logFailedFraction(age), 1e-12);
    }
    close(one.mean, other.mean, 1e-12);
  }
  const lognormal = lifeLaw("lognormal", { sigma, mu });
  for (const Q of [1e-9, -1e-9]) {
    const near = lifeLaw("generalised gamma", { sigma, Q, mu });
    close(near.logSurvival(300), lognormal.logSurvival(300), 1e-7);
    close(near.mean, lognormal.mean, 1e-7);
  }
  // 0.3 is where one way of computing the tails takes over from the other.
  const [below, above] = [0.3 - 1e-12, 0.3 + 1e-12].map((Q) => lifeLaw("generalised gamma", { sigma, Q, mu }));
  for (const age of [5, 50, 500]) close(below?.logSurvival(age) ?? 0, above?.logSurvival(age) ?? 1, 1e-10);
});

test("a law without a mean says so, and parameters that make no law are refused", () => {
  expect(lifeLaw("loglogistic", { shape: 0.9, scale: 10 }).mean).toBe(Number.POSITIVE_INFINITY);
  expect(lifeLaw("loglogistic", { shape: 0.9, scale: 10 }).meanResidualLife(5)).toBe(Number.POSITIVE_INFINITY);
  expect(lifeLaw("generalised gamma", { sigma: 1.5, Q: -1, mu: 0 }).mean).toBe(Number.POSITIVE_INFINITY);
  expect(() => lifeLaw("lognormal", { sigma: 0, mu: 1 })).toThrow(AnalysisError);
  expect(() => lifeLaw("gamma", { shape: 2 })).toThrow(AnalysisError);
  expect(() => lifeLaw("normal", { sigma: 1, mu: 0 }).quantile(1.2)).toThrow(AnalysisError);
});
