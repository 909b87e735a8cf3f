// The exponential law in closed form, a likelihood from its definition, differences, proportional hazards on exact ages; rows by hand.
import { describe, expect, test } from "vitest";
import { lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { standardiseDesign } from "../../../analysis/practice/common/standardiseDesign.ts";
import { exposureRows } from "../../../analysis/practice/hazards/exposureRows.ts";
import { fitPiecewiseHazard } from "../../../analysis/practice/hazards/fitPiecewiseHazard.ts";
import { fitProportionalHazards } from "../../../analysis/practice/hazards/fitProportionalHazards.ts";
import { hazardRowsOfLives } from "../../../analysis/practice/hazards/hazardRows.ts";
import { piecewiseSurface } from "../../../analysis/practice/hazards/piecewiseSurface.ts";
import { fitLifeRegression } from "../../../analysis/practice/life/fitLifeRegression.ts";
import type { Mix } from "../../support/estimation/randomLives.ts";
import { designOf, randomRegression } from "../../support/practice/randomRegression.ts";

describe.each<Mix>(["exact and right", "between looks", "truncated"])("%s", (mix) => {
  const { lives, design } = randomRegression(14, 60, mix);
  const sample = lifeSample({ unit: "h", lives });

  test("one piece is the exponential law, in hazards instead of lives", () => {
    const fit = fitPiecewiseHazard({ sample, design, pieces: 1 });
    const life = fitLifeRegression({ sample, design, law: "exponential" });
    if (fit.maximum !== "found" || life.maximum !== "found") throw new Error(`${fit.maximum}, ${life.maximum}`);
    expect(fit.logLikelihood).toBeCloseTo(life.logLikelihood, 8);
    fit.coefficients.forEach((b, j) => {
      expect(b).toBeCloseTo(-life.coefficients[1 + j]!, 8);
      expect(fit.covariance.matrix[j]![j]! / life.covariance.matrix[1 + j]![1 + j]!).toBeCloseTo(1, 7);
    });
    expect(fit.hazards[0]! * Math.exp(life.coefficients[0]!)).toBeCloseTo(1, 7);
    expect(fit.likelihoodRatio?.chiSquare).toBeCloseTo(life.likelihoodRatio!.chiSquare, 7);
  });

  test("with more pieces the likelihood is that of its definition, and its derivatives those of differences", () => {
    const cuts = [60, 150, 220];
    const standard = standardiseDesign(design, sample.count);
    const surface = piecewiseSurface(sample, standard, cuts);
    const at = [-6.2, -5.6, -5.1, -4.9, 0.4, -0.3];
    const m = at.length;
    const hazard = (i: number, age: number): number => {
      const linear = 0.4 * standard.values[2 * i]! - 0.3 * standard.values[2 * i + 1]!;
      let sum = 0;
      const edges = [0, ...cuts, Number.POSITIVE_INFINITY];
      for (let p = 0; p < 4; p++)
        sum += Math.exp(at[p]! + linear) * Math.max(0, Math.min(age, edges[p + 1]!) - edges[p]!);
      return sum;
    };
    let slow = 0;
    for (let i = 0; i < sample.n; i++) {
      const [lower, upper, entry] = [sample.lower[i]!, sample.upper[i]!, sample.entry[i]!];
      const sound = (age: number) => Math.exp(-hazard(i, age));
      const rate = (hazard(i, lower + 1e-5) - hazard(i, lower - 1e-5)) / 2e-5;
      const seen = upper === lower ? rate * sound(lower) : sound(lower) - (Number.isFinite(upper) ? sound(upper) : 0);
      slow += sample.count[i]! * (Math.log(seen) - Math.log(sound(entry)));
    }
    const [gradient, hessian] = [new Float64Array(m), new Float64Array(m * m)];
    expect(surface.evaluate(at, gradient, hessian)).toBeCloseTo(slow, 5);
    for (let i = 0; i < m; i++) {
      const near = (step: number) => {
        const slopes = new Float64Array(m);
        const moved = at.map((x, j) => (i === j ? x + step : x));
        return { value: surface.evaluate(moved, slopes, new Float64Array(m * m)), slopes };
      };
      const [up, down] = [near(1e-5), near(-1e-5)];
      expect(gradient[i]).toBeCloseTo((up.value - down.value) / 2e-5, 5);
      for (let j = 0; j < m; j++) expect(hessian[i * m + j]).toBeCloseTo((up.slopes[j]! - down.slopes[j]!) / 2e-5, 4);
    }
  });
});

describe("beside other regressions", () => {
  test("on exact ages the effect is that of proportional hazards, within a tenth of its error", () => {
    const { lives, design } = randomRegression(15, 400, "exact and right");
    const sample = lifeSample({ unit: "h", lives });
    const fit = fitPiecewiseHazard({ sample, design, pieces: 12 });
    const hazards = fitProportionalHazards({ rows: hazardRowsOfLives(sample), design });
    if (fit.maximum !== "found" || hazards.maximum !== "found") throw new Error(`${fit.maximum}, ${hazards.maximum}`);
    expect(fit.cuts).toHaveLength(11);
    hazards.coefficients.forEach((b, j) => {
      const error = Math.sqrt(hazards.covariance.matrix[j]![j]!);
      expect(Math.abs(fit.coefficients[j]! - b)).toBeLessThan(0.1 * error);
    });
  });

  test("fewer pieces are used where one would have no hazard; separation, dependence, ranges are said", () => {
    const looks = [
      { lower: 0, upper: 100 },
      { lower: 100, upper: 200 },
      { lower: 100, upper: 200 },
      { lower: 200, upper: null },
      { lower: 0, upper: 100 },
    ];
    const few = fitPiecewiseHazard({
      sample: lifeSample({ unit: "h", lives: looks }),
      design: designOf(["x"], [[0], [1], [0], [1], [1]]),
      pieces: 6,
    });
    if (few.maximum !== "found") throw new Error(few.maximum);
    expect(few.hazards.length).toBeLessThan(6);
    const sample = lifeSample({
      unit: "h",
      lives: [10, 20, 30, 40].map((age, i) => ({ lower: age, upper: i % 2 ? age : null })),
    });
    const worn = designOf(["worn"], [[0], [1], [0], [1]]);
    expect(fitPiecewiseHazard({ sample, design: worn, pieces: 1 })).toEqual({ maximum: "separated", names: ["worn"] });
    const same = designOf(["same"], [[2], [2], [2], [2]]);
    expect(fitPiecewiseHazard({ sample, design: same })).toEqual({ maximum: "columns dependent", names: ["same"] });
    const ranged = lifeSample({ unit: "h", lives: [{ lower: 1, lowerHigh: 2, upper: null }] });
    expect(() => fitPiecewiseHazard({ sample: ranged, design: designOf(["x"], [[1]]) })).toThrow(/ranged/);
  });
});

describe("cumulated exposure", () => {
  const life = {
    id: "seal 1",
    stop: 50,
    failed: true,
    runs: [
      { from: 0, to: 20, perHour: [1, 0] },
      { from: 20, to: 30, perHour: [0, 2] },
      { from: 35, to: 60, perHour: [1, 0] },
    ],
  };

  test("a life is cut at its runs, each row carrying what was cumulated before it", () => {
    const { rows, values, life: of } = exposureRows("h", [life, { stop: 5, failed: false, runs: [] }], 2);
    expect([...rows.start]).toEqual([0, 20, 30, 35, 0]);
    expect([...rows.stop]).toEqual([20, 30, 35, 50, 5]);
    expect([...rows.failed]).toEqual([0, 0, 0, 1, 0]);
    expect([...values]).toEqual([0, 0, 20, 0, 20, 20, 20, 20, 0, 0]);
    expect([...of]).toEqual([0, 0, 0, 0, 1]);
  });

  test("a late entry carries what was cumulated before it; runs out of order or without values are refused by name", () => {
    const { rows, values } = exposureRows("h", [{ ...life, entry: 25 }], 2);
    expect([...rows.start]).toEqual([25, 30, 35]);
    expect([...values]).toEqual([20, 10, 20, 20, 20, 20]);
    expect(() => exposureRows("h", [{ ...life, runs: [...life.runs].reverse() }], 2)).toThrow(/run 2 of seal 1/);
    expect(() => exposureRows("h", [life], 3)).toThrow(/3 finite values/);
  });
});
