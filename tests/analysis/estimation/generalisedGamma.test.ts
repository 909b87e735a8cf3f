// Prentice's law: between its special cases, and its information against 50-digit arithmetic.
import { expect, test } from "vitest";
import { lawFamilies } from "../../../analysis/distributions/lawFamilies.ts";
import { climbNewton } from "../../../analysis/estimation/climbNewton.ts";
import { fitLaw } from "../../../analysis/estimation/fitLaw.ts";
import { lawLikelihood } from "../../../analysis/estimation/lawLikelihood.ts";
import { lawStart } from "../../../analysis/estimation/lawStart.ts";
import { lawSurface } from "../../../analysis/estimation/lawSurface.ts";
import { lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { profileOfQ } from "../../../analysis/estimation/searchQ.ts";
import { failed, running } from "../../support/estimation/found.ts";
import { randomLives } from "../../support/estimation/randomLives.ts";

// NIST/SEMATECH e-Handbook 8.4.1: 20 units on test for 500 h, ten failures.
const sample = lifeSample({
  unit: "h",
  lives: [...failed(54, 187, 216, 240, 244, 335, 361, 373, 375, 386), ...running(...new Array<number>(10).fill(500))],
});

test("the covariance of (log sigma, Q, mu) agrees with 50-digit arithmetic", () => {
  // mpmath 1.3.0, mp.dps = 50: second differences of step 1e-10 of the log likelihood written with loggamma and gammainc,
  // inverted at its maximum. The reference file's values for this matrix differ from these by up to 3.2e-6.
  const expected = [
    [0.331054451354529, -0.545883992539002, -0.066085590142075],
    [-0.545883992539002, 1.16587929431259, 0.198649816853877],
    [-0.066085590142075, 0.198649816853877, 0.0832237111096723],
  ];
  const fit = fitLaw(sample, "generalised gamma");
  if (fit.maximum !== "found") throw new Error(fit.maximum);
  expected.forEach((row, i) => {
    row.forEach((value, j) => {
      expect(Math.abs((fit.covariance.matrix[i]?.[j] ?? 0) / value - 1)).toBeLessThan(1e-10);
    });
  });
});

test("held at Q = 1 the fit is the Weibull fit, at Q = 0 the lognormal, and the maximum is above both", () => {
  for (const lives of [randomLives(3, 60, "everything"), randomLives(4, 40, "between looks")]) {
    const mixed = lifeSample({ unit: "h", lives });
    const family = lawFamilies["generalised gamma"];
    const likelihood = lawLikelihood(mixed, family);
    const start = lawStart(mixed, family);
    const profile = profileOfQ(likelihood, mixed, start, [1]);
    const at = (q: number): number => profile.find((one) => one.q === q)?.logLikelihood ?? 0;
    const weibull = fitLaw(mixed, "weibull");
    const lognormal = fitLaw(mixed, "lognormal");
    if (weibull.maximum !== "found" || lognormal.maximum !== "found") throw new Error("no maximum");
    expect(Math.abs(at(1) / weibull.logLikelihood - 1)).toBeLessThan(1e-9);
    expect(Math.abs(at(0) / lognormal.logLikelihood - 1)).toBeLessThan(1e-9);
    // The approach to Q = 0 from either side.
    for (const q of [1e-7, -1e-7]) {
      const surface = lawSurface(likelihood, mixed, [start[0], start[1], q], [0, 1]);
      const climbed = climbNewton(surface, [start[0], start[1]]);
      expect(Math.abs(climbed.value - lognormal.logLikelihood)).toBeLessThan(1e-5);
    }
    const fit = fitLaw(mixed, "generalised gamma");
    if (fit.maximum === "found") {
      expect(fit.logLikelihood).toBeGreaterThanOrEqual(Math.max(weibull.logLikelihood, lognormal.logLikelihood));
    }
  }
});
