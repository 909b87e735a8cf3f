import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { rateRatio, ratioBounds } from "../../../analysis/estimation/rateRatio.ts";

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

  // None of 300 after: q^300 = tail, q = 1 / (1 + ratio x 9). One of two after: above is 1 - q^2 = tail, below 1 - p^2 = tail.
  test("bounds with next to nothing beyond them are those worked out in closed form", () => {
    for (const tail of [1e-4, 1e-12, 6e-16]) {
      const none = ratioBounds([band([300, 10_000], [0, 90_000])], tail);
      expect(none.upper! / ((tail ** (-1 / 300) - 1) / 9)).toBeCloseTo(1, 6);
      const { lower } = ratioBounds([band([1, 1000], [1, 1000])], tail);
      const q = Math.sqrt(1 - tail);
      // 1 - q for a tail near nothing, without its digits lost: tail / (1 + q).
      expect(lower / (tail / (1 + q) / q)).toBeCloseTo(1, 6);
    }
  });
});
