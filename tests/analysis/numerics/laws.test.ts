// Laws that need no table: inverses undo, complements add to 1, quadrature is exact where theory says so.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  beta,
  digamma,
  findRoot,
  fQuantile,
  fUpperTail,
  gamma,
  gaussLegendre,
  inverseBeta,
  inverseGammaP,
  inverseGammaQ,
  logGamma,
  normalCdf,
  normalQuantile,
  poissonCdf,
  regularizedBeta,
  regularizedGammaP,
  regularizedGammaQ,
  studentCdf,
  studentQuantile,
  trigamma,
} from "../../../analysis/numerics/index.ts";

const shape = fc.double({ min: 0.05, max: 300, noNaN: true });
const fraction = fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true });
const relative = (a: number, b: number): number => Math.abs(a - b) / Math.abs(b);

describe("special functions", () => {
  test("Gamma(x + 1) = x Gamma(x), and the logarithm agrees", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 150, noNaN: true }), (x) => {
        expect(relative(gamma(x + 1), x * gamma(x))).toBeLessThan(2e-13);
        expect(Math.abs(logGamma(x) - Math.log(gamma(x)))).toBeLessThan(2e-13 * Math.max(1, logGamma(x)));
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  test("digamma and trigamma are the slopes of log Gamma", () => {
    for (const x of [0.3, 0.9, 1.7, 4, 11, 60]) {
      const h = 1e-4 * x;
      const slope = (logGamma(x - 2 * h) - 8 * logGamma(x - h) + 8 * logGamma(x + h) - logGamma(x + 2 * h)) / (12 * h);
      expect(digamma(x)).toBeCloseTo(slope, 9);
      const bend = (digamma(x - 2 * h) - 8 * digamma(x - h) + 8 * digamma(x + h) - digamma(x + 2 * h)) / (12 * h);
      expect(trigamma(x)).toBeCloseTo(bend, 8);
    }
  });

  test("both tails of the incomplete gamma and beta functions add to 1, and their inverses undo them", () => {
    fc.assert(
      fc.property(shape, shape, fraction, (a, b, p) => {
        const x = inverseGammaP(a, p);
        if (x > 1e-300) {
          expect(relative(regularizedGammaP(a, x), p)).toBeLessThan(1e-11);
          expect(regularizedGammaP(a, x) + regularizedGammaQ(a, x)).toBeCloseTo(1, 13);
        }
        expect(relative(regularizedGammaQ(a, inverseGammaQ(a, 1e-3 * p)), 1e-3 * p)).toBeLessThan(1e-11);
        const y = inverseBeta(a, b, p);
        if (y > 1e-300 && y < 0.99) expect(relative(regularizedBeta(a, b, y), p)).toBeLessThan(1e-10);
      }),
      { seed: 2, numRuns: 300 },
    );
  });

  test("quantiles undo distribution functions", () => {
    fc.assert(
      fc.property(fraction, fc.double({ min: 0.5, max: 200, noNaN: true }), (p, df) => {
        expect(relative(normalCdf(normalQuantile(p)), p)).toBeLessThan(1e-12);
        expect(relative(studentCdf(studentQuantile(p, df), df), p)).toBeLessThan(1e-10);
        expect(relative(fUpperTail(fQuantile(p, df, 3), df, 3), 1 - p)).toBeLessThan(1e-9);
      }),
      { seed: 3, numRuns: 300 },
    );
  });

  test("close to one half the normal quantile is a straight line: Phi^-1(1/2 + d) = d sqrt(2 pi) (1 + pi d^2 / 3)", () => {
    for (const distance of [1e-3, 1e-4, 1e-6, 1e-9, 1e-12]) {
      for (const d of [distance, -distance]) {
        const p = 0.5 + d;
        const line = (p - 0.5) * Math.sqrt(2 * Math.PI) * (1 + (Math.PI * (p - 0.5) ** 2) / 3);
        expect(Math.abs(normalQuantile(p) - line)).toBeLessThan(1e-14 + 10 * distance ** 5);
      }
    }
  });

  test("closed forms: B(1/2, 1/2) = pi, P(1, x) = 1 - exp(-x), Poisson P(N = 0) = exp(-mu)", () => {
    expect(beta(0.5, 0.5)).toBeCloseTo(Math.PI, 13);
    expect(regularizedGammaP(1, 0.7)).toBeCloseTo(-Math.expm1(-0.7), 15);
    expect(poissonCdf(0, 4.2)).toBeCloseTo(Math.exp(-4.2), 16);
  });

  test("the ends of the range are answers, not accidents", () => {
    expect([normalQuantile(0), normalQuantile(1), normalQuantile(0.5)]).toEqual([-Infinity, Infinity, 0]);
    expect([inverseGammaP(2, 0), inverseGammaP(2, 1), inverseBeta(2, 3, 0), inverseBeta(2, 3, 1)]).toEqual([
      0,
      Infinity,
      0,
      1,
    ]);
    expect([regularizedGammaP(2, 0), regularizedGammaQ(2, Infinity), poissonCdf(-1, 3)]).toEqual([0, 0, 0]);
    expect(normalQuantile(1.5)).toBeNaN();
    expect(regularizedGammaP(-1, 2)).toBeNaN();
    expect(logGamma(-2)).toBe(Infinity);
  });
});

describe("findRoot", () => {
  test("finds the root of a smooth, a steep and a flat function to the last digits", () => {
    expect(findRoot((x) => x * x - 2, 0, 2)).toBeCloseTo(Math.SQRT2, 15);
    expect(findRoot((x) => Math.exp(50 * x) - 2, -1, 1)).toBeCloseTo(Math.LN2 / 50, 15);
    expect(findRoot((x) => (x - 0.3) ** 9, -1, 1)).toBeCloseTo(0.3, 2);
    expect(findRoot((x) => (x < 0.123 ? -1 : 1), 0, 1)).toBeCloseTo(0.123, 12);
  });

  test("refuses ends that do not bracket a root", () => {
    expect(() => findRoot((x) => x * x + 1, -1, 1)).toThrowError(/bad-setting/);
  });
});

test("Gauss-Legendre of n points is exact for x^(2n-1), and not for x^(2n)", () => {
  for (const n of [1, 2, 5, 12, 20, 32]) {
    const { nodes, weights } = gaussLegendre(n);
    const integral = (power: number): number => nodes.reduce((sum, x, i) => sum + (weights[i] ?? 0) * x ** power, 0);
    expect(integral(0)).toBeCloseTo(1, 14);
    expect(integral(2 * n - 1)).toBeCloseTo(1 / (2 * n), 14);
    if (n <= 5) expect(Math.abs(integral(2 * n) - 1 / (2 * n + 1))).toBeGreaterThan(1e-8);
  }
});
