import { describe, expect, test } from "vitest";
import { exactShare } from "../../../analysis/statement/exactShare.ts";
import { failureFreeRuns } from "../../../analysis/statement/failureFreeRuns.ts";
import { gateLimits, meanTimeGate, meanTimeOf } from "../../../analysis/statement/meanTimeGate.ts";

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
