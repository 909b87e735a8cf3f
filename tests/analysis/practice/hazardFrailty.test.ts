// The reference file's own fit, a second average over the frailty by small steps, simulated tools.
import { describe, expect, test } from "vitest";
import { z } from "zod";
import { gamma } from "../../../analysis/numerics/index.ts";
import { fitHazardFrailty, marginalLogLikelihood } from "../../../analysis/practice/hazards/fitHazardFrailty.ts";
import { fitProportionalHazards } from "../../../analysis/practice/hazards/fitProportionalHazards.ts";
import { frailtyPartialLikelihood } from "../../../analysis/practice/hazards/frailtyPartialLikelihood.ts";
import { hazardRows } from "../../../analysis/practice/hazards/hazardRows.ts";
import { uniforms } from "../../support/estimation/randomLives.ts";
import { designOf } from "../../support/practice/randomRegression.ts";
import { slowPartialLikelihood } from "../../support/practice/slowHazards.ts";
import { readReferenceFile } from "../../support/reference/readReferenceFile.ts";

/** Invented tools of five lives each, of frailty 0.4 or 1.6 in turn, or all alike. */
function toolsOf(seed: number, tools: number, unlike: boolean) {
  const random = uniforms(seed);
  const rows = Array.from({ length: 5 * tools }, (_, i) => {
    const tool = Math.floor(i / 5);
    const frailty = unlike ? (tool % 2 === 0 ? 0.4 : 1.6) : 1;
    const worn = random() < 0.5 ? 1 : 0;
    const age = 100 * (-Math.log1p(-random()) / (frailty * Math.exp(0.8 * worn))) ** (1 / 1.5);
    return { start: 0, stop: Math.min(age, 250), failed: age < 250, worn, tool: `T-${tool}` };
  });
  return {
    rows: hazardRows("h", rows),
    design: designOf(
      ["worn"],
      rows.map(({ worn }) => [worn]),
    ),
    clusters: rows.map(({ tool }) => tool),
  };
}

describe("the penalised fit at a fixed variance", () => {
  test("is higher than the reference's own, which stopped short of the top", () => {
    const file = readReferenceFile(new URL("../../reference/regression.json", import.meta.url));
    const one = file.cases.find(({ kind }) => kind === "proportional-hazards-frailty");
    const column = z.array(z.number());
    const { rows, cluster } = z
      .object({
        rows: z.object({ time: column, status: column, age: column, sex: column }).loose(),
        cluster: z.array(z.string()),
      })
      .parse(one?.data);
    const { gammaFixedTheta } = z
      .object({
        gammaFixedTheta: z.array(
          z.object({ theta: z.number(), coefficients: z.record(z.string(), z.number()), frailties: column }),
        ),
      })
      .parse(one?.expected);
    const follow = hazardRows(
      "d",
      rows.time.map((stop, i) => ({ start: 0, stop, failed: rows.status[i] === 1 })),
    );
    const ids = [...new Set(cluster)].sort((a, b) => Number(a) - Number(b));
    const values = rows.age.map((age, i) => [age, rows.sex[i] ?? 0, ...ids.map((id) => (id === cluster[i] ? 1 : 0))]);
    const wide = designOf(["age", "sex", ...ids], values);
    const fits = frailtyPartialLikelihood(
      {
        rows: follow,
        design: designOf(
          ["age", "sex"],
          values.map((row) => row.slice(0, 2)),
        ),
        clusters: cluster,
      },
      "gamma",
    );
    for (const { theta, coefficients, frailties } of gammaFixedTheta) {
      const penalised = (b: readonly number[], w: readonly number[]) =>
        slowPartialLikelihood(follow, wide, "efron", undefined, [...b, ...w]) +
        w.reduce((sum, value) => sum + (value - Math.exp(value)) / theta, 0);
      const ours = fits.at(theta);
      const own = penalised(
        ours.coefficients,
        ids.map((id) => ours.logFrailties[fits.tools.indexOf(id)] ?? Number.NaN),
      );
      expect(own).toBeCloseTo(ours.logLikelihood - ours.penalty, 9);
      expect(own).toBeGreaterThan(penalised([coefficients.age ?? 0, coefficients.sex ?? 0], frailties));
    }
  });

  test("its marginal likelihood is the average over the frailty of one tool, given the baseline that it finds", () => {
    // One tool with d failures and cumulative hazard H at u = 1: the average of u^d e^(-u H) over the gamma law, by small steps.
    const [r, d, sum] = [2.5, 3, 1.7];
    let slow = 0;
    for (let v = -30; v < 5; v += 1e-3) {
      slow += 1e-3 * Math.exp((r + d) * v - Math.exp(v) * (r + sum)) * (r ** r / gamma(r));
    }
    const w = Math.log((r + d) / (r + sum));
    // d w - e^w H stands for the partial likelihood; a constant added to the one is added to the other.
    const marginal = marginalLogLikelihood(
      {
        tools: ["T"],
        failures: Float64Array.of(d),
        at: () => {
          throw new Error("not asked");
        },
      },
      {
        isFound: true,
        variance: 1 / r,
        coefficients: [],
        logFrailties: [w],
        logLikelihood: d * w - Math.exp(w) * sum,
        penalty: r * (Math.exp(w) - w),
        inverse: new Float64Array(0),
        iterations: 0,
      },
    );
    expect(marginal).toBeCloseTo(Math.log(slow), 8);
  });
});

describe("the variance", () => {
  test("is at the top of the marginal likelihood, and its bounds where that has dropped by half a chi-square", () => {
    const input = toolsOf(3, 16, true);
    const fit = fitHazardFrailty(input);
    if (fit.maximum !== "found") throw new Error(fit.maximum);
    const fits = frailtyPartialLikelihood(input, "gamma");
    const at = (variance: number) => marginalLogLikelihood(fits, fits.at(variance));
    expect(at(fit.frailtyVariance)).toBeGreaterThan(at(fit.frailtyVariance * 1.01));
    expect(at(fit.frailtyVariance)).toBeGreaterThan(at(fit.frailtyVariance / 1.01));
    expect(at(fit.frailtyVariance)).toBeCloseTo(fit.marginalLogLikelihood, 9);
    const ends = [fit.varianceBounds.lower, fit.varianceBounds.upper].filter((end) => end !== null && end > 0);
    expect(ends.length).toBeGreaterThan(0);
    // Half the 90 % point of chi-square with one degree of freedom, 2.705543454.
    for (const end of ends) expect(fit.marginalLogLikelihood - at(end ?? Number.NaN)).toBeCloseTo(1.352771727, 5);
  });

  test("tools that differ are told, and the effect comes out less diluted than without the spread", () => {
    const fit = fitHazardFrailty(toolsOf(3, 24, true));
    if (fit.maximum !== "found") throw new Error(fit.maximum);
    expect(fit.spreadTest.pValue).toBeLessThan(0.01);
    expect(fit.coefficients[0]).toBeGreaterThan(fit.withoutSpread.coefficients[0]!);
    const error = Math.sqrt(fit.covariance.matrix[0]![0]!);
    expect(Math.abs(fit.coefficients[0]! - 0.8)).toBeLessThan(3 * error);
  });

  test("tools with the same lives each are all alike, and the plain fit stands", () => {
    const one = [20, 45, 70, 90, 130].map((stop, i) => ({ start: 0, stop, failed: i < 4, worn: i % 2 }));
    const rows = Array.from({ length: 6 }, () => one).flat();
    const fit = fitHazardFrailty({
      rows: hazardRows("h", rows),
      design: designOf(
        ["worn"],
        rows.map(({ worn }) => [worn]),
      ),
      clusters: rows.map((_, i) => `T-${Math.floor(i / 5)}`),
    });
    expect(fit.maximum).toBe("no spread between tools");
    expect(fit.withoutSpread.maximum).toBe("found");
  });

  test("a plain fit without a maximum is passed on", () => {
    const input = toolsOf(3, 4, false);
    const sound = { ...input.rows, failed: new Uint8Array(input.rows.n) };
    expect(fitHazardFrailty({ ...input, rows: sound })).toMatchObject({
      maximum: "no failures",
      withoutSpread: fitProportionalHazards({ ...input, rows: sound }),
    });
  });
});
