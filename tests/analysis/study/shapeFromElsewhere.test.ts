// A Weibull shape taken from elsewhere: fixed, believed in a range, or lent by the other modes of the records.
import { describe, expect, test } from "vitest";
import { fixedShapeBounds, fixedShapeWeibull } from "../../../analysis/estimation/fixedShapeWeibull.ts";
import { lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { shapePrior } from "../../../analysis/estimation/prior/shapePrior.ts";
import { answerWithShape, priorOf } from "../../../analysis/study/answerWithShape.ts";
import { defaultStudy } from "../../../analysis/study/definition.ts";
import { runStudy } from "../../../analysis/study/runStudy.ts";
import type { ItemLifeResult, ShapeChoice, StudyDefinition } from "../../../analysis/study/types.ts";
import { readShape, writeShape } from "../../../analysis/study/writtenShape.ts";
import { sayAnswer, sayNotice, sayShapeFinding } from "../../../analysis/wording/index.ts";
import { cleanFleet } from "../../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../../datasets/sample-fleet/generator/simulateFleet.ts";
import { smallShop } from "../../support/smallShop.ts";
import { context } from "./handShop.ts";

const survivors = Array.from({ length: 17 }, (_, i) => ({ lower: 60 + 10 * i, upper: null }));
const three = lifeSample({
  unit: "h",
  lives: [...[120, 180, 210].map((age) => ({ lower: age, upper: age })), ...survivors],
});
const none = lifeSample({ unit: "h", lives: survivors });
const fixed: ShapeChoice = { kind: "fixed", shape: 2 };
const answer = (sample: typeof three, choice: ShapeChoice) => {
  const prior = priorOf(choice, null);
  if (prior === null) throw new Error("no prior");
  return answerWithShape(sample, choice, prior, null, 100, 220, 0.9);
};

describe("a fixed shape", () => {
  // Nelson (1985): the lower bound by chi-square with 2r + 2 degrees of freedom, an independent way to the same number.
  test.each([
    ["three failures", three],
    ["no failure at all", none],
  ] as const)("%s: the lower bound of B10 is that by chi-square with 2r + 2 degrees of freedom", (_, sample) => {
    const { lower } = fixedShapeBounds(fixedShapeWeibull(sample, 2), { kind: "quantile", failedFraction: 0.1 }, 0.95);
    const own = answer(sample, fixed).readings.b10.lower ?? 0;
    expect(Math.abs(own / lower - 1)).toBeLessThan(1e-4);
  });

  test("nothing failed: a least life, no estimate and nothing above", () => {
    const { readings, fit, survival } = answer(none, fixed);
    expect(readings.b10).toMatchObject({ value: null, upper: null, why: "no failures", method: "fixed shape" });
    expect(readings.reliability).toMatchObject({ value: null, upper: null });
    expect(fit).toBeNull();
    expect(survival?.upper.every((share) => share === 1)).toBe(true);
  });
});

test("a range believed narrows the bounds that few failures leave, and both densities integrate to 1", () => {
  const { taken, readings } = answer(three, { kind: "prior", low: 1.2, high: 3, sure: 0.9 });
  const area = (density: readonly number[]): number =>
    density.slice(1).reduce((sum, here, i) => {
      const width = (taken.curves?.shape[i + 1] ?? 0) - (taken.curves?.shape[i] ?? 0);
      return sum + 0.5 * width * (here + (density[i] ?? 0));
    }, 0);
  expect(area(taken.curves?.prior ?? [])).toBeCloseTo(1, 2);
  expect(area(taken.curves?.posterior ?? [])).toBeCloseTo(1, 2);
  expect(readings.b10.method).toBe("prior on shape");
  expect(sayShapeFinding(taken)).toContain("between 1.2 and 3 (90 % sure)");
});

const ask = (
  more: Partial<StudyDefinition>,
  item = "main seal",
  mode = "wear",
  records = smallShop(),
): ItemLifeResult => {
  const result = runStudy({ ...defaultStudy("item life", { item, mode }), ...more }, records, context);
  if (result.kind !== "item life") throw new Error(result.kind);
  return result;
};

test("the answer and a notice say what was taken; another law, or nothing to pool, leaves the lives alone and says so", () => {
  const taken = ask({ shape: { kind: "prior", low: 1.5, high: 3, sure: 0.9 } });
  expect(taken.bounds.method).toBe("shape taken");
  expect(sayAnswer(taken)).toContain("with a shape believed between 1.5 and 3");
  expect(taken.notices.filter(({ code }) => code === "shape-taken").map(sayNotice)[0]).toContain("90 % sure");
  const other = ask({ shape: fixed, law: "lognormal" });
  expect(other.shapeTaken).toBeNull();
  expect(other.notices.filter(({ code }) => code === "shape-not-taken").map(sayNotice)[0]).toContain(
    "another one is read",
  );
  const alone = ask({ shape: { kind: "pooled" } });
  expect(alone.shapeTaken).toBeNull();
  expect(alone.readings).toEqual(ask({}).readings);
  expect(alone.notices.map(({ code }) => code)).toContain("shape-not-taken");
});

test("pooled: the other modes lend a range; these lives are none of it; the answer says how many lent", {
  timeout: 60_000,
}, () => {
  const { recorded } = simulateFleet({ ...cleanFleet, serials: 14, seed: 5 });
  const result = ask({ shape: { kind: "pooled" } }, "J2", "back-off", recorded);
  const { shapeTaken } = result;
  expect(shapeTaken?.pooledFrom?.groups).toBeGreaterThan(3);
  expect(shapeTaken?.low).toBeGreaterThan(0.2);
  expect(shapeTaken?.high).toBeGreaterThan(shapeTaken?.low ?? 0);
  expect(result.readings.b10.method).toBe("pooled shape");
  expect(sayAnswer(result)).toContain("lent by the other modes");
});

test.each(["2", "1.5-3", "1.5-3@.8", "pooled"])("a shape written %s is read and written the same", (text) => {
  const shape = readShape(text);
  expect(shape === null ? null : writeShape(shape)).toBe(text);
});
test.each(["", "0", "-1", "3-2", "2-2", "wide", "1e3", "1-2-3", "NaN"])("a shape written %j is refused", (text) => {
  expect(readShape(text)).toBeNull();
});
test("a range is a prior of that width", () => {
  expect(priorOf({ kind: "prior", low: 1, high: 3, sure: 0.8 }, null)).toEqual(shapePrior(1, 3, 0.8));
});
