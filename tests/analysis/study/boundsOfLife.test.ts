// How the bounds of a life are had: as asked for, or by serial where the tools are shown to differ; one-sided ones for claims.
import { expect, test } from "vitest";
import { AnalysisError } from "../../../analysis/errors.ts";
import { fitWeibull } from "../../../analysis/estimation/fitWeibull.ts";
import { chooseBounds } from "../../../analysis/study/chooseBounds.ts";
import { defaultStudy } from "../../../analysis/study/definition.ts";
import { livesAskedFor } from "../../../analysis/study/livesAskedFor.ts";
import { runStudy } from "../../../analysis/study/runStudy.ts";
import { sampleOf } from "../../../analysis/study/settleAges.ts";
import { shopData } from "../../../analysis/study/shopData.ts";
import type { ItemLifeResult, StudyDefinition } from "../../../analysis/study/types.ts";
import { formatEstimate, sayAnswer, sayBound, sayBoundsUsed, sayNotice } from "../../../analysis/wording/index.ts";
import { smallShop } from "../../support/smallShop.ts";
import { context } from "./handShop.ts";

const asked = defaultStudy("item life", { item: "main seal", mode: "wear" });
const ask = (more: Partial<StudyDefinition> = {}, shares?: number[]): ItemLifeResult => {
  const result = runStudy({ ...asked, ...more }, smallShop(), {
    ...context,
    ...(shares && { onShare: (share: number) => shares.push(share) }),
  });
  if (result.kind !== "item life") throw new Error(result.kind);
  return result;
};
/** Everything that must not depend on how bounds are had. */
const values = ({ readings, fit }: ItemLifeResult) =>
  [readings.b10, readings.median, readings.mean, readings.reliability, fit?.shape, fit?.scale].map((one) => one?.value);

test("estimates are the same however they are bounded, and every bound says its method", () => {
  const usual = ask();
  for (const [bounds, method] of [
    ["likelihood ratio", "likelihood ratio"],
    ["by serial", "bootstrap by serial"],
    ["Wald", "Wald"],
  ] as const) {
    const result = ask({ bounds });
    expect(values(result)).toEqual(values(usual));
    expect(result.readings.b10.method).toBe(method);
    expect(result.bounds).toMatchObject({ method: bounds, why: "asked for" });
    const { lower, upper, value } = result.readings.b10;
    expect(lower ?? 0).toBeLessThan(value ?? 0);
    expect(upper ?? 1e9).toBeGreaterThan(value ?? 0);
    expect(result.survival?.value).toEqual(expect.arrayContaining([1]));
  }
});

test("four tools only: bounds by serial say so, are the same each time, and tell how far they are", () => {
  const shares: number[] = [];
  const result = ask({ bounds: "by serial" }, shares);
  expect(result.bounds.bySerial).toMatchObject({ serials: 4, resamples: 2000 });
  expect(result.notices.map(({ code }) => code)).toContain("few-groups");
  expect(sayBoundsUsed(result)).toContain("tools as there are (4) were drawn again");
  expect(shares[0]).toBe(0);
  expect(Math.max(...shares)).toBeLessThan(1);
  expect(ask({ bounds: "by serial" }).readings).toEqual(result.readings);
  expect(ask({ bounds: "by serial", seed: 2 }).readings.b10.lower).not.toBe(result.readings.b10.lower);
});

test("tools that differ have bounds by serial unless another way is asked for; tools that do not, likelihood ratio", () => {
  const data = shopData(smallShop(), asked);
  const [first] = livesAskedFor(asked, data).settled;
  if (!first) throw new Error("no lives");
  // Twelve tools: six last about 100 h, six about 400 h.
  const settled = Array.from({ length: 48 }, (_, i) => {
    const age = (i % 12 < 6 ? 100 : 400) + 3 * i;
    return {
      ...first,
      life: { ...first.life, serial: `T-${i % 12}` },
      lower: age,
      lowerHigh: age,
      upper: age,
      upperHigh: age,
    };
  });
  const sample = sampleOf(settled);
  const fit = fitWeibull(sample);
  if (fit.maximum !== "found") throw new Error(fit.maximum);
  const choose = (serialsAlike: number | null, more: Partial<StudyDefinition> = {}) =>
    chooseBounds(settled, sample, fit, serialsAlike, 0.9, { ...asked, ...more }).used;
  expect(choose(0.001)).toMatchObject({ method: "by serial", why: "tools differ", bySerial: { serials: 12 } });
  expect(choose(0.2)).toMatchObject({ method: "likelihood ratio", why: "usual" });
  expect(choose(null)).toMatchObject({ method: "likelihood ratio", why: "usual" });
  expect(choose(0.001, { bounds: "likelihood ratio" })).toMatchObject({ method: "likelihood ratio", why: "asked for" });
  // Whole tools drawn again know less than forty-eight separate lives: B10 is bounded more widely.
  const { bounds, used } = chooseBounds(settled, sample, fit, 0.001, 0.9, asked);
  const own = bounds.of({ kind: "quantile", failedFraction: 0.5 });
  const separate = chooseBounds(settled, sample, fit, 0.9, 0.9, asked).bounds.of({
    kind: "quantile",
    failedFraction: 0.5,
  });
  expect((own.upper ?? 0) - (own.lower ?? 0)).toBeGreaterThan((separate.upper ?? 0) - (separate.lower ?? 0));
  expect(used.bySerial?.b10IfSeparate.method).toBe("likelihood ratio");
});

test("by serial was asked for another law: it is not to be had, and that is said", () => {
  const result = ask({ law: "lognormal", bounds: "by serial" });
  expect(result.readings.b10.method).toBe("likelihood ratio");
  const notice = result.notices.find(({ code }) => code === "bounds-not-as-asked");
  expect(notice === undefined ? "" : sayNotice(notice)).toContain("Weibull law only");
  expect(ask({ law: "lognormal", bounds: "Wald" }).readings.b10.method).toBe("Wald");
});

// A one-sided bound at 95 % is the lower end of a two-sided interval at 90 %.
test("a least value to claim at 95 % is the lower end of 90 % two-sided, and says nothing above", () => {
  const two = ask({ confidence: 0.9 });
  const one = ask({ confidence: 0.95, sides: "lower" });
  expect(one.readings.b10.lower).toBeCloseTo(two.readings.b10.lower ?? 0, 9);
  expect(one.readings.b10).toMatchObject({ upper: null, confidence: 0.95, sides: "lower" });
  expect(one.fit?.shape.lower).toBeCloseTo(two.fit?.shape.lower ?? 0, 9);
  expect(one.survival?.upper).toEqual(one.survival?.value);
  const lowest = (result: ItemLifeResult) => result.survival?.lower.map((share) => share.toFixed(9));
  expect(lowest(one)).toEqual(lowest(two));
  expect(formatEstimate(one.readings.b10)).toMatch(/^\S+ h \(at least \S+, 95 %\)$/);
  expect(sayBound(one.readings.b10, "upper")).toBe("not asked for");
  expect(sayAnswer(one)).toContain("at least");
});

test("a one-sided confidence of one half or less is refused by name", () => {
  expect(() => ask({ confidence: 0.5, sides: "lower" })).toThrow(AnalysisError);
});
