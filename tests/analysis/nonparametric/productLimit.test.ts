import { describe, expect, test } from "vitest";
import { AnalysisError } from "../../../analysis/errors.ts";
import {
  atMiddleOfRanges,
  nelsonAalen,
  productLimit,
  restrictedMean,
  survivalQuantile,
} from "../../../analysis/nonparametric/index.ts";
import { randomLives } from "../../support/nonparametric/randomLives.ts";
import { rowsOf, sampleOf } from "../../support/nonparametric/sampleOf.ts";
import { slowProductLimit } from "../../support/nonparametric/slowProductLimit.ts";

const close = (computed: readonly (number | null)[], expected: readonly number[], tolerance = 1e-14): void => {
  expect(computed).toHaveLength(expected.length);
  computed.forEach((value, at) => {
    expect(Math.abs((value ?? Number.NaN) - (expected[at] ?? Number.NaN))).toBeLessThanOrEqual(tolerance);
  });
};

// Bewick, Cheek & Ball (2004), Critical Care 8:389, Table 2, doi:10.1186/cc2955; treatment 2, eight patients.
// The table prints three decimals; the fractions are the same products worked by hand.
test("a failure and a censoring that share day 9: the censored one is still at risk", () => {
  const { steps, lastTime } = productLimit(sampleOf(rowsOf("1 1 4 5 6+ 9 9+ 22"), "days"));
  expect(steps.map((step) => step.atRisk)).toEqual([8, 6, 5, 3, 1]);
  close(
    steps.map((step) => step.survival),
    [3 / 4, 5 / 8, 1 / 2, 1 / 3, 0],
  );
  expect(lastTime).toBe(22);
});

// Worked by hand: var S / S^2 = sum d / (n (n - d)); 2/(8*6) = 1/24; + 1/(6*5) = 3/40; + 1/(5*4) = 1/8; + 1/(3*2) = 7/24.
test("Greenwood's standard error by hand; none once nothing survives", () => {
  const { steps } = productLimit(sampleOf(rowsOf("1 1 4 5 6+ 9 9+ 22")));
  close(
    steps.slice(0, 4).map((step) => step.standardError),
    [(3 / 4) * Math.sqrt(1 / 24), (5 / 8) * Math.sqrt(3 / 40), (1 / 2) * Math.sqrt(1 / 8), (1 / 3) * Math.sqrt(7 / 24)],
  );
  expect([steps[4]?.standardError, steps[4]?.lower, steps[4]?.upper]).toEqual([null, null, null]);
});

// NIST/SEMATECH e-Handbook 8.4.1.3 data, ten failures and ten units suspended at 500 h:
// S falls by 1/20 at each failure, to 0.50 at 386 h, then stays.
test("handbook data: twenty units, ten failures, the rest suspended at 500 h", () => {
  const failed = [54, 187, 216, 240, 244, 335, 361, 373, 375, 386];
  const { steps, lastTime } = productLimit(
    sampleOf([...failed.map((time) => ({ lower: time, upper: time })), { lower: 500, upper: null, count: 10 }]),
  );
  close(
    steps.map((step) => step.survival),
    failed.map((_, i) => (19 - i) / 20),
    1e-12,
  );
  expect(lastTime).toBe(500);
});

// O'Connor (1985), Practical Reliability Engineering: 38 shock absorbers, 11 failed; K-M values recomputed, four decimals.
test("shock absorbers: eleven failures among running units", () => {
  const failed = [6700, 9120, 12200, 13150, 14300, 17520, 20100, 20900, 22700, 26510, 27490];
  const running = [
    6950, 7820, 8790, 9660, 9820, 11310, 11690, 11850, 11880, 12140, 12870, 13330, 13470, 14040, 17540, 17890, 18450,
    18960, 18980, 19410, 20100, 20150, 20320, 23490, 27410, 27890, 28100,
  ];
  const { steps } = productLimit(
    sampleOf([
      ...running.map((time) => ({ lower: time, upper: null })),
      ...failed.map((time) => ({ lower: time, upper: time })),
    ]),
  );
  const printed = [0.9737, 0.9451, 0.9087, 0.8708, 0.8273, 0.7837, 0.7184, 0.6286, 0.5388, 0.4311, 0.2874];
  // 0.783752 prints as 0.7838; the list has 0.7837 cut, so a whole unit of the last digit.
  close(
    steps.map((step) => step.survival),
    printed,
    0.0001,
  );
});

test("late entry by hand: at risk on (entry, exit]", () => {
  // Entered at 3: not at risk at 3, at risk at 5. Risk sets: age 3: A B C; age 5: B C D; age 8: D.
  const { steps, lateEntries } = productLimit(
    sampleOf([
      { lower: 3, upper: 3 },
      { lower: 5, upper: 5 },
      { lower: 6, upper: null },
      { lower: 8, upper: 8, entry: 3 },
    ]),
  );
  expect(steps.map((step) => step.atRisk)).toEqual([3, 3, 1]);
  close(
    steps.map((step) => step.survival),
    [2 / 3, 4 / 9, 0],
  );
  expect(lateEntries).toBe(1);
});

test("a failure among two early entrants is named, and the curve from there on can be asked for", () => {
  const rows = [
    { lower: 12, upper: 12, entry: 10 },
    { lower: 200, upper: null, entry: 10 },
    ...Array.from({ length: 30 }, (_, i) => ({ lower: 150 + i, upper: i % 3 === 0 ? 150 + i : null, entry: 100 })),
  ];
  const curve = productLimit(sampleOf(rows));
  expect(curve.earlySmallRiskSet).toMatchObject({
    time: 12,
    lastTime: 12,
    atRisk: 2,
    survivalAfter: 0.5,
    conditionFrom: 12,
  });
  const later = productLimit(sampleOf(rows), { fromAge: 12 });
  expect(later.fromAge).toBe(12);
  expect(later.earlySmallRiskSet).toBeNull();
  expect(later.steps[0]).toMatchObject({ time: 150, atRisk: 31, failures: 1 });
  close([later.steps[0]?.survival ?? null], [30 / 31]);
});

test("a risk set that is small from the start, without late entry, is no trap", () => {
  expect(productLimit(sampleOf(rowsOf("5 7 9+ 11"))).earlySmallRiskSet).toBeNull();
});

describe("against a slow count, row by row, on random lives", () => {
  test.each(Array.from({ length: 40 }, (_, seed) => seed))("seed %i", (seed) => {
    const rows = randomLives(seed, {
      lives: 30,
      last: 12,
      kinds: ["exact", "right"],
      late: (seed % 3) / 4,
      counts: true,
    });
    const fast = productLimit(sampleOf(rows)).steps;
    const slow = slowProductLimit(rows);
    expect(fast.map((step) => [step.time, step.atRisk])).toEqual(slow.map((step) => [step.time, step.atRisk]));
    close(
      fast.map((step) => step.survival),
      slow.map((step) => step.survival),
      1e-12,
    );
  });
});

describe("laws", () => {
  const rows = randomLives(7, { lives: 40, last: 30, kinds: ["exact", "right", "exact"], late: 0.3, counts: true });
  const survivals = (given: typeof rows): (number | null)[] =>
    productLimit(sampleOf(given)).steps.flatMap((s) => [s.survival, s.lower]);

  test("order never matters", () => {
    expect(survivals([...rows].reverse())).toEqual(survivals(rows));
  });

  test("a count is so many rows", () => {
    const single = rows.flatMap((row) => Array.from({ length: row.count ?? 1 }, () => ({ ...row, count: 1 })));
    expect(survivals(single)).toEqual(survivals(rows));
  });

  test("hours to minutes moves the ages and nothing else", () => {
    const minutes = rows.map((row) => ({
      ...row,
      lower: row.lower * 60,
      upper: row.upper === null ? null : row.upper * 60,
      entry: (row.entry ?? 0) * 60,
    }));
    expect(survivals(minutes)).toEqual(survivals(rows));
    expect(productLimit(sampleOf(minutes)).steps.map((s) => s.time)).toEqual(
      productLimit(sampleOf(rows)).steps.map((s) => s.time * 60),
    );
  });

  test("four times the lives halve Greenwood's standard error", () => {
    const four = rows.map((row) => ({ ...row, count: 4 * (row.count ?? 1) }));
    const [one, other] = [rows, four].map((given) => productLimit(sampleOf(given)).steps.map((s) => s.standardError));
    one?.forEach((error, at) => {
      if (error !== null) expect(other?.[at]).toBeCloseTo(error / 2, 12);
    });
  });

  test("bounds hold the estimate and grow with the confidence", () => {
    for (const bounds of ["plain", "log", "log-log"] as const) {
      const [narrow, wide] = [0.5, 0.95].map(
        (confidence) => productLimit(sampleOf(rows), { confidence, bounds }).steps,
      );
      narrow?.forEach((step, at) => {
        const outer = wide?.[at];
        if (step.lower === null || step.upper === null || outer?.lower == null || outer.upper == null) return;
        expect(step.lower).toBeLessThanOrEqual(step.survival);
        expect(step.upper).toBeGreaterThanOrEqual(step.survival);
        expect(outer.lower).toBeLessThanOrEqual(step.lower);
        expect(outer.upper).toBeGreaterThanOrEqual(step.upper);
      });
    }
  });
});

test("no failures: no steps, nothing reached, the mean is the last age", () => {
  const curve = productLimit(sampleOf(rowsOf("5+ 9+")));
  expect(curve.steps).toEqual([]);
  expect(curve.lastTime).toBe(9);
  expect(survivalQuantile(curve, 0.5)).toEqual({ failedFraction: 0.5, estimate: null, lower: null, upper: null });
  expect(restrictedMean(curve)).toEqual({ until: 9, estimate: 9, standardError: 0 });
  expect(nelsonAalen(sampleOf(rowsOf("5+ 9+"))).steps).toEqual([]);
});

test("the median of four is the middle of the stretch at one half", () => {
  expect(survivalQuantile(productLimit(sampleOf(rowsOf("1 2 4 8"))), 0.5).estimate).toBe(3);
  expect(survivalQuantile(productLimit(sampleOf(rowsOf("1 2 4+ 8+"))), 0.5).estimate).toBe(5);
  expect(survivalQuantile(productLimit(sampleOf(rowsOf("1 2 4+ 8+"))), 0.9).estimate).toBeNull();
});

// By hand: area 1*1 + 3/4*1 + 1/2*2 = 2.75 to age 4; A(1) = 1.75, A(2) = 1; var = 1.75^2/(4*3) + 1/(3*2).
test("restricted mean by hand", () => {
  const mean = restrictedMean(productLimit(sampleOf(rowsOf("1 2 4+ 8+"))), 4);
  expect(mean.estimate).toBeCloseTo(2.75, 14);
  expect(mean.standardError).toBeCloseTo(Math.sqrt(1.75 ** 2 / 12 + 1 / 6), 14);
});

// By hand: 2/8, + 1/6, + 1/5, + 1/3, + 1/1; one by one the two at age 1 add 1/8 + 1/7.
test("Nelson-Aalen by hand, with tied failures together and one by one", () => {
  const { steps } = nelsonAalen(sampleOf(rowsOf("1 1 4 5 6+ 9 9+ 22")));
  close(
    steps.map((step) => step.cumulativeHazard),
    [1 / 4, 5 / 12, 37 / 60, 57 / 60, 117 / 60],
  );
  expect(steps[0]?.oneByOne).toBeCloseTo(1 / 8 + 1 / 7, 14);
  expect(steps[0]?.standardError).toBeCloseTo(Math.sqrt(2 / 64), 14);
});

describe("what cannot be used is refused by name", () => {
  const codeOf = (work: () => unknown): unknown => {
    try {
      work();
    } catch (error) {
      if (error instanceof AnalysisError) return [error.code, error.facts];
    }
    return null;
  };
  test("interval, left and ranged lives", () => {
    expect(codeOf(() => productLimit(sampleOf(rowsOf("3 2~5"))))).toEqual([
      "unsupported-censoring",
      { method: "product-limit", life: "life 2", kind: "interval" },
    ]);
    expect(codeOf(() => nelsonAalen(sampleOf(rowsOf("3 0~5"))))).toEqual([
      "unsupported-censoring",
      { method: "Nelson-Aalen", life: "life 2", kind: "left" },
    ]);
    const ranged = { ...sampleOf(rowsOf("3 4+")), lowerHigh: Float64Array.of(3, 6) };
    expect(codeOf(() => productLimit(ranged))).toEqual([
      "unsupported-censoring",
      { method: "product-limit", life: "life 2", kind: "ranged" },
    ]);
    expect(atMiddleOfRanges(ranged).settled).toBe(1);
    expect(productLimit(atMiddleOfRanges(ranged).sample).lastTime).toBe(5);
  });
  test("no lives, ages that are none, an entry after the end, a fraction outside (0, 1)", () => {
    expect(codeOf(() => productLimit(sampleOf([])))).toEqual(["no-lives", { method: "product-limit" }]);
    const facts = { row: 1, id: "life 1", column: "lower", value: "NaN", why: "not finite" };
    expect(codeOf(() => productLimit(sampleOf([{ lower: Number.NaN, upper: 3 }])))).toEqual(["bad-life", facts]);
    expect(codeOf(() => productLimit(sampleOf([{ lower: 3, upper: 3, entry: 3 }])))).toEqual([
      "bad-life",
      { row: 1, id: "life 1", column: "entry", value: "3", why: "entry beyond exit" },
    ]);
    expect(codeOf(() => survivalQuantile(productLimit(sampleOf(rowsOf("3"))), 1))).toMatchObject(["bad-setting", {}]);
  });
});
