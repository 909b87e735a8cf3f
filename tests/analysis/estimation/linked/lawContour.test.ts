// Bounds by the profile likelihood: at a point of the contour, the other law re-maximised by plain search, twice the fall of
// the log likelihood is the chi-square quantile (Venzon & Moolgavkar 1988, Appl. Statist. 37, 87-94).
import { describe, expect, test } from "vitest";
import { AnalysisError } from "../../../../analysis/errors.ts";
import { fitLinked, type LinkedFound } from "../../../../analysis/estimation/linked/fitLinked.ts";
import { boundsOnContour, lawContour } from "../../../../analysis/estimation/linked/lawContour.ts";
import { linkedLikelihood } from "../../../../analysis/estimation/linked/linkedLikelihood.ts";
import type { LinkedHistory } from "../../../../analysis/estimation/linked/types.ts";
import { uniforms } from "../../../support/estimation/randomLives.ts";
import { simulateShop } from "../../../support/slowLinked.ts";

const laws = { defect: { shape: 2, scale: 200 }, delay: { shape: 1.5, scale: 60 } };
const shop = { laws, items: 90, plannedAt: [150, 350] as const, runHours: 40, hourNoted: 0.7, looksAt: [100] };
const histories = simulateShop(shop, uniforms(2 * 7919));
const fit = ((): LinkedFound => {
  const one = fitLinked(histories);
  if (one.maximum !== "found") throw new Error(one.maximum);
  return one;
})();

/** Quantiles of chi-square with one degree of freedom, from printed tables (from memory): 90 % 2.706, 95 % 3.841. */
const chiSquare = { 0.9: 2.706, 0.95: 3.841 } as const;

/** The greatest log likelihood with the defect's (or the delay's) law held: the rest by shrinking pattern search. */
function profile(
  all: readonly LinkedHistory[],
  of: "defect" | "delay",
  law: { shape: number; scale: number },
  accuracy = 1e-3,
): number {
  const own = of === "defect" ? 0 : 2;
  const other = 2 - own;
  const theta = Float64Array.from(fit.theta);
  theta[own] = Math.log(law.shape);
  theta[own + 1] = Math.log(law.scale);
  const at = (x: number, y: number) => linkedLikelihood(all, theta.with(other, x).with(other + 1, y))[0]!;
  let [x, y] = [theta[other]!, theta[other + 1]!];
  let best = at(x, y);
  for (let step = 0.2; step > accuracy; ) {
    const before = best;
    for (const [dx, dy] of [
      [1, 0],
      [0, 1],
      [1, 1],
      [1, -1],
    ] as const)
      for (const sign of [1, -1]) {
        const value = at(x + sign * step * dx, y + sign * step * dy);
        if (value > best) {
          best = value;
          x += sign * step * dx;
          y += sign * step * dy;
        }
      }
    if (best === before) step /= 2;
  }
  return best;
}

describe.each([
  ["defect", 0.9],
  ["delay", 0.95],
] as const)("contour of the %s at %d", { timeout: 60_000 }, (of, confidence) => {
  const contour = lawContour(fit, histories, of, confidence);

  test("twice the fall at its points is the chi-square quantile", () => {
    const every = contour.points.length / 4;
    for (let index = 0; index < contour.points.length; index += every) {
      const point = contour.points[index]!;
      expect(point.open).toBe(false);
      const fall = 2 * (fit.logLikelihood - profile(histories, of, point));
      expect(Math.abs(fall / chiSquare[confidence] - 1), `point ${index}`).toBeLessThan(0.01);
    }
  });

  test("between the rays, where the radius is interpolated, the fall is within 5 % of it", () => {
    // Points 5 and 95 of 160 are half-way between two of the 16 rays.
    for (const index of [5, 75]) {
      const fall = 2 * (fit.logLikelihood - profile(histories, of, contour.points[index]!));
      expect(Math.abs(fall / chiSquare[confidence] - 1), `point ${index}`).toBeLessThan(0.05);
    }
  });

  test("it goes round the estimate, and bounds of shape, scale and a quantile hold it", () => {
    for (const quantity of [
      (law: { shape: number; scale: number }) => law.shape,
      (law: { shape: number; scale: number }) => law.scale,
      (law: { shape: number; scale: number }) => law.scale * Math.log(2) ** (1 / law.shape),
    ]) {
      const { lower, upper } = boundsOnContour(contour, quantity);
      expect(lower).not.toBeNull();
      expect(upper).not.toBeNull();
      expect(lower!).toBeLessThan(quantity(fit[of]));
      expect(upper!).toBeGreaterThan(quantity(fit[of]));
    }
  });
});

test("bounds of the defect's scale found another way: plain search along the scale, everything else re-maximised", () => {
  const contour = lawContour(fit, histories, "defect", 0.9);
  const { lower, upper } = boundsOnContour(contour, (law) => law.scale);
  const fallAt = (scale: number): number => {
    let best = Number.NEGATIVE_INFINITY;
    // Golden section over the shape, the delay re-maximised at each.
    let [low, high] = [Math.log(fit.defect.shape) - 0.6, Math.log(fit.defect.shape) + 0.6];
    for (let i = 0; i < 9; i++) {
      const [a, b] = [high - 0.618 * (high - low), low + 0.618 * (high - low)];
      const [atA, atB] = [a, b].map((shape) =>
        profile(histories, "defect", { shape: Math.exp(shape), scale }, 0.02),
      ) as [number, number];
      best = Math.max(best, atA, atB);
      if (atA > atB) high = b;
      else low = a;
    }
    return 2 * (fit.logLikelihood - best);
  };
  expect(fallAt(lower!) / chiSquare[0.9]).toBeCloseTo(1, 1);
  expect(fallAt(upper!) / chiSquare[0.9]).toBeCloseTo(1, 1);
}, 60_000);

test("more confidence is a wider contour", () => {
  const narrow = boundsOnContour(lawContour(fit, histories, "defect", 0.8), (law) => law.scale);
  const wide = boundsOnContour(lawContour(fit, histories, "defect", 0.99), (law) => law.scale);
  expect(wide.lower!).toBeLessThan(narrow.lower!);
  expect(wide.upper!).toBeGreaterThan(narrow.upper!);
});

test.each([0, 1, -0.5, Number.NaN])("a confidence of %d is refused", (confidence) => {
  expect(() => lawContour(fit, histories, "defect", confidence)).toThrow(AnalysisError);
});

test("two failures among six: each bound is a number or said to be open, and the estimate lies between", () => {
  const few: LinkedHistory[] = [
    { defect: { from: 0, to: 150 }, failure: { from: 150, to: 150 }, entry: 0 },
    { defect: { from: 60, to: 210 }, failure: { from: 200, to: 210 }, entry: 0 },
    { defect: { from: 0, to: 120 }, failure: { from: 120, to: null }, entry: 0 },
    { defect: { from: 120, to: 190 }, failure: { from: 190, to: null }, entry: 0 },
    { defect: { from: 140, to: null }, failure: { from: 140, to: null }, entry: 0 },
    { defect: { from: 100, to: null }, failure: { from: 100, to: null }, entry: 0 },
  ];
  const one = fitLinked(few);
  if (one.maximum !== "found") throw new Error(one.maximum);
  for (const of of ["defect", "delay"] as const) {
    const { lower, upper } = boundsOnContour(lawContour(one, few, of, 0.95), (law) => law.scale);
    expect(lower ?? 0).toBeLessThan(one[of].scale);
    expect(upper ?? Number.MAX_VALUE).toBeGreaterThan(one[of].scale);
    expect([lower, upper].every((bound) => bound === null || Number.isFinite(bound))).toBe(true);
  }
});
