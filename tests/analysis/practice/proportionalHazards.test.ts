// Second implementations (tests/support/practice/slowHazards.ts), differences, laws, small cases by hand.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { logRank } from "../../../analysis/nonparametric/logRank.ts";
import { nelsonAalen } from "../../../analysis/nonparametric/nelsonAalen.ts";
import { baselineHazard } from "../../../analysis/practice/hazards/baselineHazard.ts";
import { compileHazards } from "../../../analysis/practice/hazards/compileHazards.ts";
import { fitProportionalHazards } from "../../../analysis/practice/hazards/fitProportionalHazards.ts";
import { hazardConcordance } from "../../../analysis/practice/hazards/hazardConcordance.ts";
import { hazardResiduals } from "../../../analysis/practice/hazards/hazardResiduals.ts";
import { hazardRows, hazardRowsOfLives } from "../../../analysis/practice/hazards/hazardRows.ts";
import { proportionalHazardsBounds } from "../../../analysis/practice/hazards/proportionalHazardsBounds.ts";
import { proportionalityTest } from "../../../analysis/practice/hazards/proportionalityTest.ts";
import type { ProportionalHazardsFound, ProportionalHazardsInput } from "../../../analysis/practice/types.ts";
import { uniforms } from "../../support/estimation/randomLives.ts";
import { designOf } from "../../support/practice/randomRegression.ts";
import { slowConcordance, slowPartialLikelihood } from "../../support/practice/slowHazards.ts";

interface Row {
  readonly start: number;
  readonly stop: number;
  readonly failed: boolean;
  readonly count: number;
  readonly x: readonly [number, number];
  readonly stratum: string;
  readonly tool: string;
}

/** Rows with many ties, late entries, counts and two strata. */
function randomRows(seed: number, n = 40): Row[] {
  const random = uniforms(seed);
  return Array.from({ length: n }, (_, i) => {
    const start = random() < 0.4 ? Math.floor(4 * random()) : 0;
    const x = [random() < 0.5 ? 1 : 0, Math.round(10 * random())] as const;
    const stop = start + 1 + Math.floor(9 * random() * Math.exp(-0.5 * x[0]));
    return {
      start,
      stop,
      failed: random() < 0.7,
      count: 1 + (i % 2),
      x,
      stratum: i % 3 === 0 ? "4.75 in" : "6.75 in",
      tool: `T-${i % 9}`,
    };
  });
}

function inputOf(rows: readonly Row[], more: Partial<ProportionalHazardsInput> = {}): ProportionalHazardsInput {
  return {
    rows: hazardRows("h", rows),
    design: designOf(
      ["worn", "load"],
      rows.map(({ x }) => x),
    ),
    strata: rows.map(({ stratum }) => stratum),
    clusters: rows.map(({ tool }) => tool),
    ...more,
  };
}

function found(input: ProportionalHazardsInput): ProportionalHazardsFound {
  const fit = fitProportionalHazards(input);
  if (fit.maximum !== "found") throw new Error(fit.maximum);
  return fit;
}

const seeds = fc.integer({ min: 1, max: 100_000 });

describe.each(["efron", "breslow"] as const)("%s ties", (ties) => {
  test("the partial likelihood is that of its definition, at 0 and at the estimate, where it is flat", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const input = inputOf(randomRows(seed), { ties });
        const fit = found(input);
        const slow = (b: readonly number[]) => slowPartialLikelihood(input.rows, input.design, ties, input.strata, b);
        expect(fit.nullLogLikelihood).toBeCloseTo(slow([0, 0]), 9);
        expect(fit.logLikelihood).toBeCloseTo(slow(fit.coefficients), 9);
        fit.coefficients.forEach((b, j) => {
          const moved = (step: number) => slow(fit.coefficients.map((value, i) => (i === j ? b + step : value)));
          expect((moved(1e-4) - moved(-1e-4)) / 2e-4).toBeCloseTo(0, 5);
        });
      }),
      { numRuns: 25 },
    );
  });

  test.each([
    ["no penalty", {}],
    ["a normal prior", { penalty: { deviation: 0.4 } }],
  ])("derivatives are those of differences: %s", (_, more) => {
    const { surface } = compileHazards(inputOf(randomRows(7), { ties, ...more }));
    const at = [0.4, -0.7];
    const [gradient, hessian] = [new Float64Array(2), new Float64Array(4)];
    surface.evaluate(at, gradient, hessian);
    for (const i of [0, 1]) {
      const near = (step: number) => {
        const slopes = new Float64Array(2);
        return {
          slopes,
          value: surface.evaluate(
            at.map((b, j) => (i === j ? b + step : b)),
            slopes,
            new Float64Array(4),
          ),
        };
      };
      const [up, down] = [near(1e-5), near(-1e-5)];
      expect(gradient[i]).toBeCloseTo((up.value - down.value) / 2e-5, 5);
      for (const j of [0, 1]) expect(hessian[2 * i + j]).toBeCloseTo((up.slopes[j]! - down.slopes[j]!) / 2e-5, 4);
    }
  });

  test("the slope of the bias-reducing penalty is that of half the log determinant", () => {
    const { surface } = compileHazards(inputOf(randomRows(8), { ties, penalty: "bias-reducing" }));
    const gradient = new Float64Array(2);
    const at = (b: readonly number[]) => surface.evaluate(b, gradient, new Float64Array(4));
    at([0.3, 0.2]);
    const slopes = [...gradient];
    expect(slopes[0]).toBeCloseTo((at([0.3 + 1e-5, 0.2]) - at([0.3 - 1e-5, 0.2])) / 2e-5, 5);
    expect(slopes[1]).toBeCloseTo((at([0.3, 0.2 + 1e-5]) - at([0.3, 0.2 - 1e-5])) / 2e-5, 5);
  });

  test("order never matters, a count of c is c rows, a row cut in two is the same row, and age counts by its order only", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const rows = randomRows(seed);
        const [one, other] = [
          found(inputOf(rows, { ties })),
          found(
            inputOf(
              rows
                .flatMap((row) => Array.from({ length: row.count }, () => ({ ...row, count: 1 })))
                .flatMap((row): Row[] =>
                  row.stop - row.start > 1.5
                    ? [
                        { ...row, stop: row.stop - 0.5, failed: false },
                        { ...row, start: row.stop - 0.5 },
                      ]
                    : [row],
                )
                .map((row) => ({ ...row, start: row.start ** 2, stop: row.stop ** 2 }))
                .reverse(),
              { ties },
            ),
          ),
        ];
        expect(other.logLikelihood).toBeCloseTo(one.logLikelihood, 8);
        [0, 1].forEach((j) => {
          expect(other.coefficients[j]).toBeCloseTo(one.coefficients[j]!, 8);
          expect(other.covariance.matrix[j]![j]! / one.covariance.matrix[j]![j]!).toBeCloseTo(1, 8);
          const [a, b] = [one, other].map((fit) => fit.robustCovariance?.matrix[j]?.[j] ?? Number.NaN);
          expect(b! / a!).toBeCloseTo(1, 7);
        });
      }),
      { numRuns: 20 },
    );
  });

  test("score residuals add up to 0, martingale residuals too", () => {
    const input = inputOf(randomRows(11), { ties });
    const fit = found(input);
    const { martingale, schoenfeld } = hazardResiduals(fit, input);
    expect(martingale.reduce((sum, m, i) => sum + m * input.rows.count[i]!, 0)).toBeCloseTo(0, 9);
    for (const j of [0, 1]) {
      const total = schoenfeld.reduce((sum, { row, residual }) => sum + residual[j]! * input.rows.count[row]!, 0);
      expect(total).toBeCloseTo(0, 8);
    }
  });
});

describe("against other methods of this project", () => {
  const rows = randomRows(31, 60).map((row) => ({ ...row, start: 0, count: 1, stratum: "all" }));
  const sample = lifeSample({
    unit: "h",
    lives: rows.map(({ stop, failed }) => ({ lower: stop, upper: failed ? stop : null })),
  });

  test("the score test of a factor without ties is the log-rank test", () => {
    const untied = rows.map((row, i) => ({ ...row, stop: row.stop + i / 1000 }));
    const input = inputOf(untied, {
      design: designOf(
        ["worn"],
        untied.map(({ x }) => [x[0]]),
      ),
    });
    const lives = untied.map(({ stop, failed }) => ({ lower: stop, upper: failed ? stop : null }));
    const test = logRank(lifeSample({ unit: "h", lives }), { group: untied.map(({ x }) => `${x[0]}`) });
    expect(found(input).score?.chiSquare).toBeCloseTo(test.chiSquare, 8);
  });

  test("without columns the baseline is the Nelson-Aalen curve, with Efron's ties its one-by-one form", () => {
    const empty = {
      rows: hazardRowsOfLives(sample),
      design: designOf(
        [],
        rows.map(() => []),
      ),
    };
    const curve = nelsonAalen(sample, { confidence: 0.9 }).steps;
    for (const ties of ["breslow", "efron"] as const) {
      const input = { ...empty, ties };
      const steps = baselineHazard(found(input), input)[0]?.steps ?? [];
      expect(steps.map(({ age }) => age)).toEqual(curve.map(({ time }) => time));
      steps.forEach(({ cumulativeHazard }, i) => {
        expect(cumulativeHazard).toBeCloseTo(curve[i]![ties === "breslow" ? "cumulativeHazard" : "oneByOne"], 10);
      });
    }
  });

  test("concordance is the share of all pairs; doubled lives leave it", () => {
    const input = inputOf(
      randomRows(12).map((row) => ({ ...row, stratum: "all" })),
      {},
    );
    const fit = found(input);
    const linear = Array.from({ length: input.rows.n }, (_, i) =>
      fit.coefficients.reduce((sum, b, j) => sum + b * input.design.values[2 * i + j]!, 0),
    );
    expect(hazardConcordance(fit, input).value).toBeCloseTo(slowConcordance(input.rows, linear), 12);
  });

  test("bounds by likelihood ratio are where the definition's likelihood, re-maximised, has dropped by half a chi-square", () => {
    const input = inputOf(randomRows(13));
    const fit = found(input);
    const [bounds] = proportionalHazardsBounds(fit, input, { confidence: 0.9, names: ["worn"] });
    for (const end of [bounds?.lower, bounds?.upper]) {
      // Golden section over the other coefficient.
      let [a, b] = [-2, 2];
      const at = (load: number) =>
        slowPartialLikelihood(input.rows, input.design, "efron", input.strata, [end ?? Number.NaN, load]);
      for (let i = 0; i < 60; i++) {
        const [c, d] = [b - 0.618034 * (b - a), a + 0.618034 * (b - a)];
        if (at(c) > at(d)) b = d;
        else a = c;
      }
      // Half the 90 % point of chi-square with one degree of freedom, 2.705543454.
      expect(fit.logLikelihood - at(0.5 * (a + b))).toBeCloseTo(1.352771727, 6);
    }
  });
});

describe("an effect that changes with age", () => {
  /** Weibull ages; worn ones of another shape, or of the same shape and three times the hazard. `load` does nothing. */
  const simulated = (random: () => number, n: number, wornShape: number): ProportionalHazardsInput =>
    inputOf(
      Array.from({ length: n }, (_, i): Row => {
        const worn = i % 2;
        const stop = 100 * (-Math.log1p(-random()) / (worn === 1 ? 3 : 1)) ** (1 / (worn === 1 ? wornShape : 2));
        return { start: 0, stop, failed: random() < 0.8, count: 1, x: [worn, random()], stratum: "all", tool: `${i}` };
      }),
    );

  test.each(["product-limit", "age", "rank", "log age"] as const)("is told, on the scale %s", (scale) => {
    const input = simulated(uniforms(5), 300, 0.8);
    const { terms, overall } = proportionalityTest(found(input), input, { scale });
    expect(terms[0]?.test?.pValue).toBeLessThan(1e-4);
    expect(overall?.pValue).toBeLessThan(1e-4);
    expect(overall?.degreesOfFreedom).toBe(2);
  });

  test("one that does not is told as often as the level says, within three Monte Carlo errors", () => {
    const random = uniforms(6);
    const sets = 300;
    let told = 0;
    for (let set = 0; set < sets; set++) {
      const input = simulated(random, 60, 2);
      const p = proportionalityTest(found(input), input).overall?.pValue ?? Number.NaN;
      if (p < 0.1) told++;
    }
    expect(Math.abs(told / sets - 0.1)).toBeLessThan(3 * Math.sqrt((0.1 * 0.9) / sets));
  });
});

describe("where there is no maximum", () => {
  const rows = [4, 7, 9, 12, 15, 20].map((stop, i): Row => {
    return { start: 0, stop, failed: i % 2 === 1, count: 1, x: [i % 2, i], stratum: "all", tool: `${i}` };
  });
  const worn = designOf(
    ["worn"],
    rows.map(({ x }) => [x[0]]),
  );

  test("a group without failures is said with its direction; either penalty bounds it", () => {
    const input = inputOf(rows, { design: worn });
    expect(fitProportionalHazards(input)).toMatchObject({
      maximum: "separated",
      unbounded: [{ name: "worn", towards: "shorter life" }],
    });
    for (const penalty of ["bias-reducing", { deviation: 1 }] as const) {
      const fit = found({ ...input, penalty });
      expect(fit.coefficients[0]).toBeGreaterThan(0);
      expect(fit.coefficients[0]).toBeLessThan(6);
      expect(fit.notices.map(({ code }) => code)).toContain("penalised");
    }
  });

  test("dependent columns, and no failures", () => {
    const twice = designOf(
      ["worn", "worn again"],
      rows.map(({ x }) => [x[0], 3 * x[0] + 1]),
    );
    expect(fitProportionalHazards(inputOf(rows, { design: twice }))).toMatchObject({
      maximum: "columns dependent",
      dependent: ["worn again"],
    });
    expect(fitProportionalHazards(inputOf(rows.map((row) => ({ ...row, failed: false })))).maximum).toBe("no failures");
  });

  test("wrong rows are refused by row and column, ages between looks by name", () => {
    expect(() => hazardRows("h", [{ start: 5, stop: 5, failed: true }])).toThrow(/"column":"stop"/);
    expect(() => hazardRows("h", [{ start: 0, stop: 5, failed: true, count: 1.5 }])).toThrow(/not whole/);
    expect(() => hazardRows("h", [])).toThrow(/no-lives/);
    expect(() => hazardRowsOfLives(lifeSample({ unit: "h", lives: [{ lower: 3, upper: 8 }] }))).toThrow(/interval/);
    expect(() => fitProportionalHazards(inputOf(rows, { strata: ["a"] }))).toThrow(/strata/);
  });
});

test("a risk set that shrinks by many orders of magnitude keeps its digits", () => {
  // Early on, few light rows; the heavy ones enter late. Going down in age their risk of e^40 has to leave the sums again.
  const light = [1, 2, 3, 4, 5, 6].map((stop, i) => ({ start: 0, stop, failed: true, count: 1, x: i % 2 }));
  const heavy = [20, 21, 22].map((stop, i) => ({ start: 10, stop, failed: i > 0, count: 1, x: 40 }));
  const rows = [...light, ...heavy];
  const follow = hazardRows("h", rows);
  const design = designOf(
    ["x"],
    rows.map(({ x }) => [x]),
  );
  const { surface, standard } = compileHazards({ rows: follow, design });
  const value = surface.evaluate([1 * standard.ranges[0]!], new Float64Array(1), new Float64Array(1));
  expect(value).toBeCloseTo(slowPartialLikelihood(follow, design, "efron", undefined, [1]), 10);
});
