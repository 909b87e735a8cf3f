import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { rateRatio } from "../../../analysis/estimation/rateRatio.ts";
import { adjustPValues } from "../../../analysis/practice/comparisons/adjustPValues.ts";
import { exactShare } from "../../../analysis/statement/exactShare.ts";
import { failureFreeRuns } from "../../../analysis/statement/failureFreeRuns.ts";
import { gateLimits, meanTimeGate, meanTimeOf } from "../../../analysis/statement/meanTimeGate.ts";

const band = (before: [number, number], after: [number, number]) => ({
  before: { failures: before[0], hours: before[1] },
  after: { failures: after[0], hours: after[1] },
});

describe("ratio of rates", () => {
  // W12, own case, recomputed by the exact binomial: 12 failures in 2,400 h before, 4 in 2,600 h after.
  test("12 in 2,400 h against 4 in 2,600 h: 0.308 (0.072-1.015, 95 %), p 0.054", () => {
    const ratio = rateRatio([band([12, 2400], [4, 2600])], 0.95);
    expect(ratio.ratio).toBeCloseTo(0.308, 3);
    expect(ratio.lower).toBeCloseTo(0.072, 3);
    expect(ratio.upper).toBeCloseTo(1.015, 3);
    expect(ratio.pValue).toBeCloseTo(0.054, 3);
  });

  test("one band cut into two of equal rates gives the same ratio; a band without hours on one side says nothing", () => {
    const whole = rateRatio([band([12, 2400], [4, 2600])], 0.9);
    const cut = rateRatio([band([6, 1200], [2, 1300]), band([6, 1200], [2, 1300])], 0.9);
    expect(cut.ratio).toBeCloseTo(whole.ratio ?? 0, 8);
    expect(cut.lower).toBeCloseTo(whole.lower, 8);
    const lonely = rateRatio([band([12, 2400], [4, 2600]), band([0, 0], [9, 500])], 0.9);
    expect(lonely).toEqual(whole);
  });

  // By hand: old items fail ten times as often, and after the change most hours are on young ones. Band by band nothing changed.
  test("younger items after the change are not taken for an effect of it", () => {
    const bands = [band([1, 1000], [9, 9000]), band([90, 9000], [10, 1000])];
    expect(rateRatio(bands, 0.9).ratio).toBeCloseTo(1, 6);
    expect(rateRatio([band([91, 10_000], [19, 10_000])], 0.9).upper).toBeLessThan(0.4);
  });

  test("none after: ratio 0 with an upper bound; none before: no ratio, a lower bound, no upper one", () => {
    // Upper bound by hand: (1 - p)^5 = 0.05 with p = odds / (1 + odds) and equal hours: odds = 1 / 0.05^(1/5) - 1.
    const none = rateRatio([band([5, 1000], [0, 1000])], 0.9);
    expect(none).toMatchObject({ ratio: 0, lower: 0 });
    expect(none.upper).toBeCloseTo(1 / 0.05 ** (1 / 5) - 1, 8);
    expect(rateRatio([band([0, 1000], [5, 1000])], 0.9)).toMatchObject({ ratio: null, upper: null });
    expect(rateRatio([band([0, 1000], [0, 1000])], 0.9)).toEqual({
      ratio: null,
      lower: 0,
      upper: null,
      pValue: 1,
      failures: 0,
    });
  });

  test("before and after exchanged: the ratio and its bounds turn over", () => {
    const counts = fc.tuple(
      fc.integer({ min: 1, max: 15 }),
      fc.integer({ min: 1, max: 15 }),
      fc.integer({ min: 100, max: 5000 }),
    );
    fc.assert(
      fc.property(counts, counts, ([a, b, hours], [c, d, more]) => {
        const bands = [band([a, hours], [b, more]), band([c, more], [d, hours])];
        const there = rateRatio(bands, 0.9);
        const back = rateRatio(
          bands.map(({ before, after }) => ({ before: after, after: before })),
          0.9,
        );
        expect(there.ratio! * back.ratio!).toBeCloseTo(1, 6);
        expect(there.lower * back.upper!).toBeCloseTo(1, 6);
        expect(there.pValue).toBeCloseTo(back.pValue, 8);
      }),
      { numRuns: 30 },
    );
  });
});

describe("shares of runs", () => {
  // Success run n = ln(1 - C) / ln R: 22 runs show 0.90 and 45 show 0.95 at 90 % one-sided, which is 80 % two-sided.
  test("22 and 45 runs without a failure", () => {
    expect(exactShare(22, 22, 0.8).lower).toBeGreaterThanOrEqual(0.9);
    expect(exactShare(21, 21, 0.8).lower).toBeLessThan(0.9);
    expect(exactShare(45, 45, 0.8).lower).toBeGreaterThanOrEqual(0.95);
    expect(exactShare(44, 44, 0.8).lower).toBeLessThan(0.95);
  });

  // Clopper & Pearson 95 % for 8 of 10: 0.4439 to 0.9748 (R 4.2.2 binom.test, from memory).
  test("8 of 10", () => {
    const { lower, upper } = exactShare(8, 10, 0.95);
    expect(lower).toBeCloseTo(0.4439, 4);
    expect(upper).toBeCloseTo(0.9748, 4);
  });

  test("failures all on one of ten tools: the bounds are wider than those of independent runs", () => {
    const runs = (failed: (serial: number, run: number) => boolean) =>
      Array.from({ length: 100 }, (_, index) => ({
        serial: `S${index % 10}`,
        hours: 50,
        failed: failed(index % 10, Math.floor(index / 10)),
      }));
    const spread = failureFreeRuns(
      runs((serial, run) => serial === run),
      0.9,
    );
    const clustered = failureFreeRuns(
      runs((serial) => serial === 3),
      0.9,
    );
    expect(spread).toMatchObject({ runs: 100, free: 90, designEffect: 1 });
    // By hand: k/(k-1) * (9 * (10 - 9)^2 + (0 - 9)^2) / 100^2 = 10/9 * 90 / 10,000 = 0.01, against 0.9 * 0.1 / 100.
    expect(clustered.designEffect).toBeCloseTo(0.01 / 0.0009, 10);
    expect(clustered.share.value).toBe(0.9);
    expect(clustered.share.lower).toBeLessThan(spread.share.lower ?? 0);
    expect(clustered.share.upper).toBeGreaterThan(spread.share.upper ?? 1);
    expect(clustered.bySerial.reduce((sum, one) => sum + one.runs, 0)).toBe(100);
  });

  test("no runs: no share; all free: the upper bound is 1", () => {
    expect(failureFreeRuns([], 0.9).share).toMatchObject({ value: null, lower: null, upper: null });
    expect(failureFreeRuns([{ serial: "S1", hours: 5, failed: false }], 0.9).share).toMatchObject({
      value: 1,
      upper: 1,
    });
  });
});

// Holm (1979), worked by hand: 0.01 * 3, 0.02 * 2, then never falling.
test("allowing for several comparisons: the smallest p times their number, then one fewer", () => {
  const adjusted = adjustPValues([0.02, 0.01, 0.9], "holm");
  expect(adjusted[1]).toBeCloseTo(0.03, 12);
  expect(adjusted[0]).toBeCloseTo(0.04, 12);
  expect(adjusted[2]).toBeCloseTo(0.9, 12);
  expect(adjustPValues([0.5, 0.6], "holm")).toEqual([1, 1]);
});

describe("mean time between failures", () => {
  const even = (failures: number) => [
    {
      failures: Array.from({ length: failures }, (_, i) => (1000 * (i + 0.5)) / failures),
      end: 1000,
      endedBy: "time" as const,
    },
  ];
  const gate = (systems: Parameters<typeof meanTimeGate>[0], failures: number) =>
    meanTimeGate(systems, { failures, hours: 1000, confidence: 0.9 });

  // W9: 1,600 h with 2 failures: 800 h (90 %: 254-4,502).
  test("bounds of 1,600 h with 2 failures", () => {
    const meanTime = meanTimeOf(2, 1600, 0.9);
    expect(meanTime?.value).toBeCloseTo(800, 9);
    expect(meanTime?.lower).toBeCloseTo(254, 0);
    expect(meanTime?.upper).toBeCloseTo(4502, 0);
  });

  test("said of 40 failures spread evenly, not of 9, not of a trend, not of none", () => {
    expect(gate(even(40), 40).why).toEqual([]);
    expect(gate(even(9), 9).why).toContain("fewer than 10 failures");
    const early = [
      {
        failures: Array.from({ length: 40 }, (_, i) => 1000 * ((i + 1) / 41) ** 3),
        end: 1000,
        endedBy: "time" as const,
      },
    ];
    expect(gate(early, 40).why).toEqual(["shape not near 1", "trend"]);
    expect(gate([{ failures: [], end: 1000, endedBy: "time" }], 0)).toMatchObject({ mayBeSaid: false, meanTime: null });
  });

  test("the shape's interval must lie inside the limits, not only its value", () => {
    const { shape, mayBeSaid } = gate(even(10), 10);
    expect(shape?.value).toBeGreaterThan(gateLimits.shape.lower);
    expect(shape?.upper).toBeGreaterThan(gateLimits.shape.upper);
    expect(mayBeSaid).toBe(false);
  });
});
