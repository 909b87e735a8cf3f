// Second implementation (tests/support/practice/slowFrailty.ts), differences, simulated tools, laws.
import { describe, expect, test } from "vitest";
import { lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { standardiseDesign } from "../../../analysis/practice/common/standardiseDesign.ts";
import { fitWeibullFrailty, type WeibullFrailtyFound } from "../../../analysis/practice/life/fitWeibullFrailty.ts";
import { frailtyClusters } from "../../../analysis/practice/life/frailtyClusters.ts";
import { frailtySurface } from "../../../analysis/practice/life/frailtySurface.ts";
import { type Mix, uniforms } from "../../support/estimation/randomLives.ts";
import { designOf, randomRegression } from "../../support/practice/randomRegression.ts";
import { slowFrailty } from "../../support/practice/slowFrailty.ts";

const mixes: readonly Mix[] = ["exact and right", "between looks", "truncated"];

describe.each(mixes)("%s", (mix) => {
  const { lives, design, tools } = randomRegression(21, 24, mix);
  const sample = lifeSample({ unit: "h", lives });
  const standard = standardiseDesign(design, sample.count);
  const surface = frailtySurface(sample, standard, frailtyClusters(sample, tools));
  const m = surface.dimension;
  const at = [Math.log(1.6), -1.6 * Math.log(260), Math.log(0.4), 0.5, -0.2];

  test("the likelihood is each tool's lives averaged over its frailty", () => {
    const coefficients = [0.5 / standard.ranges[0]!, -0.2 / standard.ranges[1]!];
    const offset = coefficients.reduce((sum, b, j) => sum + b * standard.means[j]!, 0);
    const slow = slowFrailty(sample, design, tools, {
      shape: 1.6,
      scale: 260 * Math.exp(offset / 1.6),
      variance: 0.4,
      coefficients,
    });
    expect(surface.evaluate(at, new Float64Array(m), new Float64Array(m * m))).toBeCloseTo(slow, 8);
  });

  test("analytic derivatives are those of differences", () => {
    const [gradient, hessian] = [new Float64Array(m), new Float64Array(m * m)];
    surface.evaluate(at, gradient, hessian);
    for (let i = 0; i < m; i++) {
      const near = (step: number): { value: number; slopes: Float64Array } => {
        const slopes = new Float64Array(m);
        const moved = at.map((x, j) => (i === j ? x + step : x));
        return { value: surface.evaluate(moved, slopes, new Float64Array(m * m)), slopes };
      };
      const [up, down] = [near(1e-5), near(-1e-5)];
      expect(gradient[i]).toBeCloseTo((up.value - down.value) / 2e-5, 5);
      for (let j = 0; j < m; j++) {
        const difference = (up.slopes[j]! - down.slopes[j]!) / 2e-5;
        expect(hessian[i * m + j]! / (1 + Math.abs(difference))).toBeCloseTo(
          difference / (1 + Math.abs(difference)),
          6,
        );
      }
    }
  });
});

/** Invented lives, six a tool, of tools whose frailty is 0.3 or 1.7 in turn (variance 0.49), looked at every 40 h or not. */
function unlikeTools(seed: number, tools: number, looks: boolean) {
  const random = uniforms(seed);
  const rows = Array.from({ length: tools * 6 }, (_, i) => {
    const frailty = Math.floor(i / 6) % 2 === 0 ? 0.3 : 1.7;
    const worn = random() < 0.5 ? 1 : 0;
    const age = 200 * (-Math.log1p(-random()) / (frailty * Math.exp(0.7 * worn))) ** (1 / 1.8);
    return { tool: `T-${Math.floor(i / 6)}`, worn, age, stop: 400 };
  });
  const look = (age: number) => ({ lower: Math.floor(age / 40) * 40, upper: Math.floor(age / 40) * 40 + 40 });
  const lives = rows.map(({ age, stop }) =>
    age > stop ? { lower: stop, upper: null } : looks ? look(age) : { lower: age, upper: age },
  );
  return {
    sample: lifeSample({ unit: "h", lives }),
    design: designOf(
      ["worn"],
      rows.map(({ worn }) => [worn]),
    ),
    clusters: rows.map(({ tool }) => tool),
  };
}

function found(input: Parameters<typeof fitWeibullFrailty>[0]): WeibullFrailtyFound {
  const fit = fitWeibullFrailty(input);
  if (fit.maximum !== "found") throw new Error(fit.maximum);
  return fit;
}

describe("tools that differ", () => {
  test.each([false, true])(
    "are told, with the effect less diluted than without the spread (between looks: %s)",
    (looks) => {
      const fit = found(unlikeTools(4, 40, looks));
      expect(fit.spreadTest.pValue).toBeLessThan(1e-6);
      expect(fit.varianceBounds.lower).toBeGreaterThan(0.2);
      expect(fit.varianceBounds.upper).toBeLessThan(1.2);
      // True shape 1.8, effect 0.7 and variance 0.49, within three standard errors.
      const error = (j: number) => Math.sqrt(fit.covariance.matrix[j]![j]!);
      expect(Math.abs(Math.log(fit.shape / 1.8))).toBeLessThan(3 * error(0));
      expect(Math.abs(fit.coefficients[0]! - 0.7)).toBeLessThan(3 * error(3));
      expect(fit.shape).toBeGreaterThan(1 / fit.withoutSpread.spread);
      const [weak, strong] = [1, 0].map((parity) =>
        fit.tools.filter(({ name }) => Number(name.slice(2)) % 2 === parity),
      );
      const mean = (tools: readonly { readonly frailty: number }[] = []) =>
        tools.reduce((sum, { frailty }) => sum + frailty, 0) / tools.length;
      expect(mean(weak)).toBeGreaterThan(2 * mean(strong));
      expect(fit.largestScore).toBeLessThan(1e-6);
    },
  );

  test("looks a thousandth of an hour apart give the answer of exact ages", () => {
    const input = unlikeTools(9, 12, false);
    const near = lifeSample({
      unit: "h",
      lives: Array.from(input.sample.lower, (lower, i) =>
        input.sample.upper[i] === lower ? { lower: lower - 5e-4, upper: lower + 5e-4 } : { lower, upper: null },
      ),
    });
    const [exact, between] = [found(input), found({ ...input, sample: near })];
    expect(between.frailtyVariance / exact.frailtyVariance).toBeCloseTo(1, 4);
    expect(between.coefficients[0]).toBeCloseTo(exact.coefficients[0]!, 4);
    expect(between.tools[3]!.frailty).toBeCloseTo(exact.tools[3]!.frailty, 4);
  });

  test("hours to days moves the scale alone; the order of the lives never matters", () => {
    const input = unlikeTools(5, 14, true);
    const fit = found(input);
    const order = Array.from({ length: input.sample.n }, (_, i) => input.sample.n - 1 - i);
    const days = lifeSample({
      unit: "d",
      lives: order.map((i) => ({
        lower: input.sample.lower[i]! / 24,
        upper: input.sample.upper[i] === Number.POSITIVE_INFINITY ? null : input.sample.upper[i]! / 24,
      })),
    });
    const other = found({
      sample: days,
      design: designOf(
        ["worn"],
        order.map((i) => [input.design.values[i]!]),
      ),
      clusters: order.map((i) => input.clusters[i]!),
    });
    expect(other.scale * 24).toBeCloseTo(fit.scale, 5);
    expect(other.frailtyVariance).toBeCloseTo(fit.frailtyVariance, 8);
    expect(other.varianceBounds.upper).toBeCloseTo(fit.varianceBounds.upper!, 7);
    expect(other.coefficientBounds[0]!.lower).toBeCloseTo(fit.coefficientBounds[0]!.lower!, 8);
  });
});

describe("tools that do not differ", () => {
  test("the largest likelihood at no spread is said, with the regression that then holds", () => {
    // Every tool has the same six lives.
    const rows = Array.from({ length: 30 }, (_, i) => ({ age: 40 + 37 * (i % 6), worn: i % 2, tool: `T-${i % 5}` }));
    const fit = fitWeibullFrailty({
      sample: lifeSample({
        unit: "h",
        lives: rows.map(({ age }, i) => ({ lower: age, upper: i % 6 === 5 ? null : age })),
      }),
      design: designOf(
        ["worn"],
        rows.map(({ worn }) => [worn]),
      ),
      clusters: rows.map(({ tool }) => tool),
    });
    expect(fit.maximum).toBe("no spread between tools");
    expect(fit.withoutSpread.maximum).toBe("found");
  });

  test("ages in ranges are refused by name, and a regression without a maximum is passed on", () => {
    const { lives, design, tools } = randomRegression(3, 24, "ranged");
    expect(() => fitWeibullFrailty({ sample: lifeSample({ unit: "h", lives }), design, clusters: tools })).toThrow(
      /ranged/,
    );
    const sound = lifeSample({ unit: "h", lives: tools.map(() => ({ lower: 10, upper: null })) });
    expect(fitWeibullFrailty({ sample: sound, design, clusters: tools }).maximum).toBe("no failures");
  });
});
