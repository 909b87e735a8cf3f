// The joint fit itself: at its maximum, the same in any unit and order, found again by plain search on the brute-force
// likelihood, agreeing with the single fit where the delay is nothing, and in words where there is nothing to fit.
import { describe, expect, test } from "vitest";
import { AnalysisError } from "../../../../analysis/errors.ts";
import { fitWeibull } from "../../../../analysis/estimation/fitWeibull.ts";
import { lifeSample } from "../../../../analysis/estimation/lifeSample.ts";
import { fitLinked, type LinkedFound } from "../../../../analysis/estimation/linked/fitLinked.ts";
import { linkedLikelihood } from "../../../../analysis/estimation/linked/linkedLikelihood.ts";
import type { LinkedHistory } from "../../../../analysis/estimation/linked/types.ts";
import { uniforms } from "../../../support/estimation/randomLives.ts";
import { simulateShop, slowLogLikelihood } from "../../../support/slowLinked.ts";

const laws = { defect: { shape: 2, scale: 200 }, delay: { shape: 1.5, scale: 60 } };
const shop = { laws, items: 120, plannedAt: [100, 300] as const, runHours: 40, hourNoted: 0.7, looksAt: [120] };
const histories = simulateShop(shop, uniforms(7919));

function found(all: readonly LinkedHistory[]): LinkedFound {
  const fit = fitLinked(all);
  if (fit.maximum !== "found") throw new Error(fit.maximum);
  return fit;
}

describe("a shop of 120 items", { timeout: 60_000 }, () => {
  const fit = found(histories);

  test("counts are those of the histories", () => {
    expect(fit.counts).toEqual({
      histories: 120,
      defects: histories.filter(({ defect }) => defect.to !== null).length,
      failures: histories.filter(({ failure }) => failure.to !== null).length,
    });
    expect(fit.counts.failures).toBeGreaterThan(10);
    expect(fit.counts.defects).toBeGreaterThan(fit.counts.failures);
  });

  test("the score is zero at the estimate, by its own derivatives and by differences", () => {
    expect(fit.largestScore).toBeLessThan(1e-5);
    const theta = Float64Array.from(fit.theta);
    for (let i = 0; i < 4; i++) {
      const at = (by: number) => linkedLikelihood(histories, theta.with(i, theta[i]! + by))[0]!;
      expect(Math.abs(at(1e-4) - at(-1e-4)) / 2e-4).toBeLessThan(1e-3);
      expect(at(0.02)).toBeLessThan(fit.logLikelihood);
      expect(at(-0.02)).toBeLessThan(fit.logLikelihood);
    }
  });

  test("log likelihood as told, by brute force", () => {
    // The brute force is settled to 1e-5; the rest, 0.0006 here, is what the nodes of the fit leave.
    expect(fit.logLikelihood).toBeCloseTo(slowLogLikelihood(histories, fit, 4000), 2);
  });

  test("no other laws, near or far, do better on the brute-force likelihood", () => {
    const few = histories.slice(0, 60);
    const { theta } = found(few);
    const at = (logs: readonly number[]): number => {
      const [k1, s1, k2, s2] = logs.map(Math.exp) as [number, number, number, number];
      return slowLogLikelihood(few, { defect: { shape: k1, scale: s1 }, delay: { shape: k2, scale: s2 } }, 500);
    };
    const top = at(theta);
    const random = uniforms(99 * 7919);
    for (const reach of [0.02, 0.1, 0.4, 1.5])
      for (let i = 0; i < 30; i++)
        // 0.002: what 500 midpoints leave open.
        expect(at(theta.map((value) => value + reach * (2 * random() - 1)))).toBeLessThan(top + 0.002);
  });

  // Its first fifty items: a delay of shape 15.6 is told, a quarter of a unit above the likelihood that those laws have.
  test("log likelihood as told where the delay comes out steep", () => {
    const few = histories.slice(0, 50);
    const steep = found(few);
    expect(steep.logLikelihood).toBeCloseTo(slowLogLikelihood(few, steep, 4000), 1);
  });

  test("order never matters", () => {
    const reversed = found(histories.toReversed());
    reversed.theta.forEach((value, parameter) => {
      expect(value).toBeCloseTo(fit.theta[parameter]!, 6);
    });
  });

  test.each([24, 1 / 60])("hours divided by %d scale both scales and leave both shapes", (factor) => {
    const other = found(
      histories.map(({ defect, failure, entry }) => ({
        defect: { from: defect.from / factor, to: defect.to === null ? null : defect.to / factor },
        failure: { from: failure.from / factor, to: failure.to === null ? null : failure.to / factor },
        entry: entry / factor,
      })),
    );
    expect(other.defect.shape).toBeCloseTo(fit.defect.shape, 5);
    expect(other.delay.shape).toBeCloseTo(fit.delay.shape, 5);
    expect((other.defect.scale * factor) / fit.defect.scale).toBeCloseTo(1, 5);
    expect((other.delay.scale * factor) / fit.delay.scale).toBeCloseTo(1, 5);
  });
});

test("items seen from a known age on: late entry gives the same law as the whole life", () => {
  const random = uniforms(31 * 7919);
  const late = simulateShop({ ...shop, items: 1500, looksAt: [80, 160] }, random)
    // Those found sound at 80 h, watched from there.
    .filter(({ defect }) => defect.from >= 80)
    .map((history) => ({ ...history, entry: 80 }));
  expect(late.length).toBeGreaterThan(500);
  const fit = found(late);
  // About 1,200 items: standard errors of 4 and 3 % on the defect's shape and scale.
  expect(Math.abs(Math.log(fit.defect.shape / 2))).toBeLessThan(0.15);
  expect(Math.abs(Math.log(fit.defect.scale / 200))).toBeLessThan(0.1);
  const ignored = found(late.map((history) => ({ ...history, entry: 0 })));
  expect(Math.log(ignored.defect.shape / 2)).toBeGreaterThan(0.3);
});

describe("the limit of no delay", { timeout: 60_000 }, () => {
  // Failure and defect at one age: the defect's law is the single fit of those ages.
  const random = uniforms(77 * 7919);
  const noDelay = { ...laws, delay: { shape: 1, scale: 0.001 } };
  const ages = simulateShop({ ...shop, laws: noDelay, items: 80, hourNoted: 1, looksAt: [] }, random);
  const single = fitWeibull(
    lifeSample({ unit: "h", lives: ages.map(({ failure }) => ({ lower: failure.from, upper: failure.to })) }),
  );

  test("the defect's law is the single fit of the failure ages", () => {
    const fit = found(ages);
    if (single.maximum !== "found") throw new Error(single.maximum);
    expect(Math.log(fit.defect.shape / single.shape)).toBeCloseTo(0, 1);
    expect(Math.log(fit.defect.scale / single.scale)).toBeCloseTo(0, 1);
  });

  // Today a delay of 0.04 h at shape 2.7 is told, two units of log likelihood above what those laws have.
  test("and its likelihood is what those laws have", () => {
    const fit = found(ages);
    expect(fit.logLikelihood).toBeCloseTo(slowLogLikelihood(ages, fit, 4000), 1);
  });

  test("with defects seen at their age the delay is short and the defect's law the single fit", () => {
    const seen = ages.map(({ defect, failure }) =>
      failure.to === null
        ? { defect, failure, entry: 0 }
        : { defect: { from: failure.to - 0.5, to: failure.to - 0.5 }, failure, entry: 0 },
    );
    const fit = fitLinked(seen);
    if (single.maximum !== "found") throw new Error(single.maximum);
    if (fit.maximum !== "found") throw new Error(fit.maximum);
    expect(Math.log(fit.defect.shape / single.shape)).toBeCloseTo(0, 1);
    expect(Math.log(fit.defect.scale / single.scale)).toBeCloseTo(0, 2);
    expect(fit.delay.scale).toBeLessThan(1);
  });
});

describe("in words instead of numbers", () => {
  const sound = (age: number): LinkedHistory => ({
    defect: { from: age, to: null },
    failure: { from: age, to: null },
    entry: 0,
  });
  const codeOf = (all: readonly LinkedHistory[]) => {
    try {
      return fitLinked(all).maximum;
    } catch (error) {
      if (error instanceof AnalysisError) return `${error.code}: ${error.facts.why ?? ""}`;
      throw error;
    }
  };

  test("no history at all is an error", () => expect(codeOf([])).toBe("no-lives: "));
  test("nothing failed", () => expect(codeOf([sound(100), sound(200)])).toBe("no failures"));
  test("defects found, none failed: the delay cannot be fitted", () => {
    const defective = { defect: { from: 50, to: 100 }, failure: { from: 100, to: null }, entry: 0 };
    expect(codeOf([sound(100), defective, defective])).toBe("no failures");
  });
  test("a failure before its defect is an error that names the row", () => {
    const contradiction = { defect: { from: 120, to: 150 }, failure: { from: 80, to: 100 }, entry: 0 };
    expect(codeOf([sound(100), contradiction])).toBe("bad-life: failed before its defect");
    expect(() => fitLinked([sound(100), contradiction])).toThrow(/"row":2/);
  });
  test("ends the wrong way round, and ages below 0, are errors", () => {
    expect(codeOf([{ ...sound(1), defect: { from: 9, to: 3 } }])).toBe("bad-life: lower above upper");
    expect(codeOf([{ ...sound(1), failure: { from: -9, to: 3 } }])).toBe("bad-life: negative");
    expect(codeOf([{ ...sound(1), failure: { from: Number.NaN, to: 3 } }])).toBe("bad-life: negative");
  });
  test("one failure, or failures all at one age, never give a shape that means nothing", () => {
    const failed = { defect: { from: 0, to: 100 }, failure: { from: 100, to: 100 }, entry: 0 };
    for (const all of [[failed], [failed, failed, failed], [failed, sound(50)]]) {
      const fit = fitLinked(all);
      if (fit.maximum !== "found") continue;
      expect(Number.isFinite(fit.logLikelihood)).toBe(true);
      expect(Math.abs(fit.logLikelihood - slowLogLikelihood(all, fit))).toBeLessThan(0.01);
    }
  });
});
