import fc from "fast-check";
import { expect, test } from "vitest";
import { intervalTrendTests } from "../../../analysis/recurrence/intervalTrendTests.ts";
import { meanCumulativeFunction } from "../../../analysis/recurrence/meanCumulativeFunction.ts";
import { powerLaw } from "../../../analysis/recurrence/powerLaw.ts";
import { trendTests } from "../../../analysis/recurrence/trendTests.ts";
import { virtualAge } from "../../../analysis/recurrence/virtualAge.ts";

const repairs = [5, 40, 43, 175, 389, 712, 747, 795, 1299, 1478];
const improving = { failures: repairs, end: 1500, endedBy: "time" } as const;

// By hand. Three tools to 100 h; C was not followed between 20 h and 60 h.
//   30 h: A and B at risk (C in its gap), one event: M = 1/2.   70 h: three at risk, two events: M = 1/2 + 2/3 = 7/6.
//   Deviations at the end: A 1/4 + 1/9, B -1/4 + 1/9, C -2/9: squares sum to (13/36)^2 + (5/36)^2 + (8/36)^2 = 258/1296.
test("a tool in a gap of its observation is not at risk, and is again after it", () => {
  const { steps } = meanCumulativeFunction([
    { id: "A", observed: [{ from: 0, to: 100 }], events: [30, 70] },
    { id: "B", observed: [{ from: 0, to: 100 }], events: [70] },
    {
      id: "C",
      observed: [
        { from: 0, to: 20 },
        { from: 60, to: 100 },
      ],
      events: [],
    },
  ]);
  expect(steps.map((step) => step.atRisk)).toEqual([2, 3]);
  expect(steps[1]?.mean).toBeCloseTo(7 / 6, 14);
  expect(steps[1]?.standardError).toBeCloseTo(Math.sqrt(258) / 36, 14);
});

test("an event in a gap of observation is refused, naming the tool", () => {
  const units = [{ id: "A", observed: [{ from: 0, to: 20 }], events: [30] }];
  expect(() => meanCumulativeFunction(units)).toThrow(/events of A.*30/);
});

// NIST/SEMATECH e-Handbook 8.2.3.4 and 8.4.5.2 (data and 310.2 h from memory; the rest recomputed from the formulas there).
test("W5 and W5b: improvement slope, mean time at the end, chi-square, Laplace, reversals with their exact chance", () => {
  const fit = powerLaw([improving]);
  expect(1 - (fit?.conditional?.unbiasedShape ?? 0)).toBeCloseTo(0.5165, 4);
  expect(1500 / (10 * (fit?.conditional?.unbiasedShape ?? 0))).toBeCloseTo(310.2, 1);
  expect(fit?.shape).toBeCloseTo(0.537, 3);
  const trend = trendTests([improving]);
  expect(trend.handbook?.chiSquare).toBeCloseTo(37.23, 2);
  expect(trend.handbook?.upperTail).toBeCloseTo(0.011, 3);
  expect(trend.laplace?.statistic).toBeCloseTo(-1.33, 2);
  const { reverseArrangements } = intervalTrendTests(improving);
  expect(reverseArrangements).toMatchObject({ count: 33, pairs: 45 });
  expect(reverseArrangements.improvingTail).toBeCloseTo(0.036, 3);
});

// Handbook example of growth, ended by the calendar (values from memory, recomputed).
test("W6: 27 failures in 300 h", () => {
  const failures = [
    2.6, 16.5, 16.5, 17, 21.4, 29.1, 33.3, 56.5, 63.1, 70.6, 73, 77.7, 93.9, 95.5, 98.1, 101.1, 132, 142.2, 147.7, 149,
    167.2, 190.7, 193, 198.7, 251.9, 282.5, 286.1,
  ];
  const fit = powerLaw([{ failures, end: 300, endedBy: "time" }]);
  expect(fit?.shape).toBeCloseTo(0.716, 3);
  expect(fit?.factor).toBeCloseTo(0.454, 3);
  expect(1 / (fit?.atEnd?.intensity ?? 0)).toBeCloseTo(15.5, 1);
  expect(fit?.conditional?.unbiasedShape).toBeCloseTo(0.69, 3);
});

test("no failures: no law, no test", () => {
  const quiet = { failures: [], end: 500, endedBy: "time" } as const;
  expect(powerLaw([quiet])).toBeNull();
  expect(trendTests([quiet])).toEqual({ failures: 0, laplace: null, handbook: null });
});

test("failures that all came at the end have no power law: the shape is unbounded", () => {
  expect(powerLaw([{ failures: [500, 500], end: 500, endedBy: "time" }])).toBeNull();
});

test("the same failures in days instead of hours: same shape, same tests", () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 0.01, max: 0.99, noNaN: true }), { minLength: 3, maxLength: 12 }),
      (shares) => {
        const inHours = { failures: shares.map((share) => share * 240), end: 240, endedBy: "time" } as const;
        const inDays = { failures: shares.map((share) => share * 10), end: 10, endedBy: "time" } as const;
        expect(powerLaw([inDays])?.shape).toBeCloseTo(powerLaw([inHours])?.shape ?? 0, 9);
        expect(powerLaw([inDays])?.profileBounds.lower).toBeCloseTo(powerLaw([inHours])?.profileBounds.lower ?? 0, 9);
        expect(trendTests([inDays]).laplace?.statistic).toBeCloseTo(trendTests([inHours]).laplace?.statistic ?? 0, 9);
      },
    ),
  );
});

test("virtual age refuses stretches without length, naming the value", () => {
  expect(() => virtualAge([{ intervals: [5, 0, 7], running: null }], "whole age")).toThrow(
    /stretches between failures/,
  );
});
