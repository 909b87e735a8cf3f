// Value against a second implementation, analytic derivatives against differences, for every law and every kind of life.
import { describe, expect, test } from "vitest";
import { type LawName, lawFamilies, type Theta } from "../../../analysis/distributions/lawFamilies.ts";
import { lawPoint, SECOND } from "../../../analysis/distributions/lawPoint.ts";
import { lawFromTheta, thetaOf } from "../../../analysis/distributions/lifeLaw.ts";
import { lawLikelihood } from "../../../analysis/estimation/lawLikelihood.ts";
import { type LifeInput, lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { slowLawLogLikelihood } from "../../support/estimation/slowLaw.ts";

const kinds: Readonly<Record<string, LifeInput>> = {
  exact: { lower: 120, upper: 120 },
  right: { lower: 150, upper: null },
  left: { lower: 0, upper: 90 },
  interval: { lower: 60, upper: 130 },
  "wide interval": { lower: 40, upper: 400 },
  "narrow interval": { lower: 100, upper: 100.01 },
  "exact, left-truncated": { lower: 120, upper: 120, entry: 70 },
  "right, left-truncated": { lower: 150, upper: null, entry: 149 },
  "interval, left-truncated": { lower: 90, upper: 130, entry: 40 },
  "left from entry": { lower: 0, upper: 130, entry: 40 },
  counted: { lower: 60, upper: 130, count: 2.5 },
  "exact in a range": { lower: 80, lowerHigh: 160, upper: 80, upperHigh: 160 },
  "right in a range": { lower: 80, lowerHigh: 260, upper: null },
  "right in a range from 0": { lower: 0, lowerHigh: 260, upper: null },
  "left in a range": { lower: 0, upper: 50, upperHigh: 140 },
  "interval in ranges": { lower: 30, lowerHigh: 80, upper: 110, upperHigh: 160 },
  "interval in crossing ranges, left-truncated": { lower: 40, lowerHigh: 140, upper: 60, upperHigh: 180, entry: 20 },
};

const laws: readonly (readonly [LawName, Readonly<Record<string, number>>])[] = [
  ["weibull", { shape: 1.8, scale: 140 }],
  ["exponential", { scale: 140 }],
  ["lognormal", { sigma: 0.6, mu: 4.8 }],
  ["loglogistic", { shape: 2.6, scale: 120 }],
  ["gamma", { shape: 2.5, scale: 50 }],
  ["gamma", { shape: 0.6, scale: 200 }],
  ["gamma", { shape: 40, scale: 3 }],
  ["generalised gamma", { sigma: 0.6, Q: 0.7, mu: 4.8 }],
  ["generalised gamma", { sigma: 0.6, Q: 0.1, mu: 4.8 }],
  ["generalised gamma", { sigma: 0.6, Q: 0, mu: 4.8 }],
  ["generalised gamma", { sigma: 0.6, Q: -0.9, mu: 4.6 }],
  ["generalised gamma", { sigma: 0.5, Q: 3, mu: 5 }],
  ["smallest extreme value", { sigma: 40, mu: 130 }],
  ["normal", { sigma: 45, mu: 110 }],
  ["three-parameter weibull", { shape: 1.6, scale: 120, threshold: 12 }],
  ["three-parameter weibull", { shape: 3, scale: 200, threshold: -60 }],
];

describe.each(laws)("%s %j", (name, parameters) => {
  const family = lawFamilies[name];
  const theta = thetaOf(name, parameters);
  test.each(Object.entries(kinds))("%s", (_, life) => {
    const sample = lifeSample({ unit: "h", lives: [life] });
    const likelihood = lawLikelihood(sample, family);
    const at = (steps: readonly [index: number, step: number][], place: number): number => {
      const moved: [number, number, number] = [...theta];
      for (const [index, step] of steps) moved[index] = (moved[index] ?? 0) + step;
      const out = new Float64Array(10);
      likelihood.evaluate(moved, out);
      return out[place] ?? Number.NaN;
    };
    // The slow average is a midpoint rule of 2,000 steps; a narrow interval cancels seven digits in it.
    const slow = slowLawLogLikelihood(sample, lawFromTheta(name, theta));
    expect(Math.abs(at([], 0) - slow)).toBeLessThan(1e-5);
    // mu and the threshold carry the unit of age on the natural scale.
    const unit = (index: number): number =>
      (index === 0 && family.ageScale === "natural") || (index === 2 && name === "three-parameter weibull") ? 40 : 1;
    for (const i of family.free) {
      const h = 2e-3 * unit(i);
      const slope = (place: number): number =>
        (at([[i, -2 * h]], place) - 8 * at([[i, -h]], place) + 8 * at([[i, h]], place) - at([[i, 2 * h]], place)) /
        (12 * h);
      const closeTo = (analytic: number, numeric: number, scale: number): void => {
        expect(Math.abs(analytic - numeric) * scale).toBeLessThan(3e-7 * Math.max(1, Math.abs(analytic) * scale));
      };
      closeTo(at([], 1 + i), slope(0), unit(i));
      for (const j of family.free) closeTo(at([], SECOND[i][j]), slope(1 + j), unit(i) * unit(j));
    }
  });
});

test("a point below the threshold has no density, is survived, and adds no derivative", () => {
  const point = lawPoint(lawFamilies["three-parameter weibull"]);
  const theta: Theta = [4, 0, 50];
  const out = new Float64Array(10);
  point.logDensity(40, theta, out);
  expect(out[0]).toBe(Number.NEGATIVE_INFINITY);
  point.logSurvival(40, theta, out);
  expect([...out]).toEqual(new Array(10).fill(0));
});

test("absurd parameters neither overflow nor turn into NaN", () => {
  const sample = lifeSample({ unit: "h", lives: Object.values(kinds) });
  for (const [name, parameters] of laws) {
    const likelihood = lawLikelihood(sample, lawFamilies[name]);
    const base = thetaOf(name, parameters);
    const out = new Float64Array(10);
    for (const mu of [-400, -20, 0, 20, 400]) {
      for (const logSigma of [-9, -2, 2, 9]) {
        const isNatural = lawFamilies[name].ageScale === "natural";
        likelihood.evaluate([isNatural ? mu : base[0] + mu, base[1] + logSigma, base[2]], out);
        expect(Number.isNaN(out[0])).toBe(false);
        expect(out[0]).toBeLessThan(Number.POSITIVE_INFINITY);
        if (Number.isFinite(out[0])) expect([...out].every(Number.isFinite)).toBe(true);
      }
    }
  }
});
