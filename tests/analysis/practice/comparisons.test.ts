// Second implementations that go through every table, order or draw; definitions; laws.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { adjustPValues } from "../../../analysis/practice/comparisons/adjustPValues.ts";
import { binomialInterval } from "../../../analysis/practice/comparisons/binomialInterval.ts";
import { correlation } from "../../../analysis/practice/comparisons/correlation.ts";
import { exactTableTest } from "../../../analysis/practice/comparisons/exactTableTest.ts";
import { manySampleRank } from "../../../analysis/practice/comparisons/manySampleRank.ts";
import { trendInProportions } from "../../../analysis/practice/comparisons/trendInProportions.ts";
import { twoSampleRank } from "../../../analysis/practice/comparisons/twoSampleRank.ts";
import { twoWayTable } from "../../../analysis/practice/comparisons/twoWayTable.ts";
import { allDraws, allOrders, allTables, firstCellTail } from "../../support/practice/slowComparisons.ts";

const count = fc.integer({ min: 0, max: 4 });

describe("two-way tables", () => {
  test.each([
    [2, 2],
    [2, 4],
    [3, 3],
    [4, 2],
  ])("the exact p of a %i x %i table is that of all tables with its margins", (rows, columns) => {
    const table = fc.array(fc.array(count, { minLength: columns, maxLength: columns }), {
      minLength: rows,
      maxLength: rows,
    });
    fc.assert(
      fc.property(table, (cells) => {
        const tables = allTables(cells);
        const seen = tables.find((one) => one.cells.every((row, i) => row.every((cell, j) => cell === cells[i]?.[j])));
        const slow = tables.filter(({ p }) => p <= (seen?.p ?? 0) * (1 + 1e-7)).reduce((sum, { p }) => sum + p, 0);
        expect(exactTableTest(cells)).toBeCloseTo(slow, 10);
      }),
      { numRuns: 60 },
    );
  });

  test("at the bounds of the odds ratio the tails hold half of what the confidence leaves", () => {
    fc.assert(
      fc.property(fc.tuple(count, count, count, count), ([a, b, c, d]) => {
        const table = [
          [a + 1, b + 1],
          [c + 1, d + 1],
        ];
        const ratio = twoWayTable(table, { confidence: 0.8 }).twoByTwo?.conditionalOddsRatio;
        expect(firstCellTail(table, ratio?.lower ?? Number.NaN, "at least")).toBeCloseTo(0.1, 9);
        expect(firstCellTail(table, ratio?.upper ?? Number.NaN, "at most")).toBeCloseTo(0.1, 9);
      }),
      { numRuns: 40 },
    );
  });

  test("rows exchanged invert the odds ratio and its bounds, and change no p", () => {
    const [one, other] = [
      [
        [9, 31],
        [2, 48],
      ],
      [
        [2, 48],
        [9, 31],
      ],
    ].map((table) => twoWayTable(table));
    const [a, b] = [one!.twoByTwo!.conditionalOddsRatio, other!.twoByTwo!.conditionalOddsRatio];
    expect(a.value! * b.value!).toBeCloseTo(1, 10);
    expect(a.lower * b.upper!).toBeCloseTo(1, 10);
    expect(one!.exactP).toBeCloseTo(other!.exactP!, 12);
    expect(one!.twoByTwo!.less).toBeCloseTo(other!.twoByTwo!.greater, 12);
  });

  test("a cell of 0 leaves an end open, said as null or 0", () => {
    const empty = twoWayTable([
      [5, 0],
      [3, 9],
    ]).twoByTwo;
    expect(empty?.conditionalOddsRatio).toMatchObject({ value: null, upper: null });
    expect(empty?.conditionalOddsRatio.lower).toBeGreaterThan(1);
    expect(empty?.sampleOddsRatio).toBeNull();
  });

  test("a table too large for the exact sum says so instead of a number", () => {
    const large = Array.from({ length: 5 }, (_, i) => Array.from({ length: 5 }, (_, j) => 20 + ((7 * i + 3 * j) % 11)));
    expect(twoWayTable(large).exactP).toBeNull();
    expect(twoWayTable(large).chiSquareP).toBeGreaterThan(0);
  });

  test.each([
    [
      "counts that are not whole",
      [
        [1.5, 2],
        [3, 4],
      ],
    ],
    [
      "negative counts",
      [
        [-1, 2],
        [3, 4],
      ],
    ],
    [
      "a row without counts",
      [
        [0, 0],
        [3, 4],
      ],
    ],
    ["ragged rows", [[1, 2], [3]]],
    ["one row", [[1, 2]]],
  ])("%s are refused", (_, table) => {
    expect(() => twoWayTable(table)).toThrow(/bad-setting/);
  });
});

describe("shares", () => {
  test("the exact interval holds the true share at least as often as it says, whatever that share", () => {
    const n = 17;
    for (let share = 0.01; share < 1; share += 0.0199) {
      let covered = 0;
      let p = (1 - share) ** n;
      for (let x = 0; x <= n; x++) {
        const { lower, upper } = binomialInterval(x, n, { confidence: 0.9 });
        if (lower <= share && share <= upper) covered += p;
        p *= ((n - x) / (x + 1)) * (share / (1 - share));
      }
      expect(covered).toBeGreaterThanOrEqual(0.9);
    }
  });

  test("the score interval is where the score test just does not reject", () => {
    const { lower, upper } = binomialInterval(3, 20, { confidence: 0.95, method: "score" });
    for (const p of [lower, upper]) {
      expect(Math.abs(3 / 20 - p) / Math.sqrt((p * (1 - p)) / 20)).toBeCloseTo(1.959963984540054, 10);
    }
  });

  test("failures and survivors exchanged mirror the interval", () => {
    const [a, b] = [binomialInterval(4, 30), binomialInterval(26, 30)];
    expect(a.lower).toBeCloseTo(1 - b.upper, 12);
  });

  test("a trend over two groups is the chi-square test of the table; scores reversed turn its sign", () => {
    const trend = trendInProportions([4, 9], [30, 28]);
    expect(trend.chiSquare).toBeCloseTo(
      twoWayTable([
        [4, 26],
        [9, 19],
      ]).chiSquare,
      10,
    );
    expect(trend.z).toBeGreaterThan(0);
    expect(trendInProportions([4, 9], [30, 28], [2, 1]).z).toBeCloseTo(-trend.z, 12);
    expect(trendInProportions([4, 9], [30, 28], [0, 100]).z).toBeCloseTo(trend.z, 12);
  });

  test("no failures, failures above the lives, and equal scores are refused", () => {
    expect(() => trendInProportions([0, 0], [5, 5])).toThrow(/share of failures/);
    expect(() => trendInProportions([6, 0], [5, 5])).toThrow(/group 1/);
    expect(() => trendInProportions([1, 2], [5, 5], [1, 1])).toThrow(/scores/);
    expect(() => binomialInterval(6, 5)).toThrow(/bad-setting/);
  });
});

describe("adjusted p-values", () => {
  const list = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 12 });

  test("a hypothesis is adjusted to q exactly where the step-up or step-down rule at level q first rejects it", () => {
    fc.assert(
      fc.property(list, fc.double({ min: 0.001, max: 0.999, noNaN: true }), (p, level) => {
        const m = p.length;
        const sorted = [...p].sort((a, b) => a - b);
        const rejectedTo = (rank: number) => p.map((value) => rank >= 0 && value <= sorted[rank]!);
        // Benjamini & Hochberg: the largest k with p(k) <= k q / m, and all before it.
        const stepUp = sorted.findLastIndex((value, k) => value <= ((k + 1) * level) / m);
        // Holm: all before the first k with p(k) > q / (m - k + 1).
        const first = sorted.findIndex((value, k) => value > level / (m - k));
        const isNear = (adjusted: number[]) => adjusted.some((value) => Math.abs(value - level) < 1e-9);
        const [bh, holm] = [adjustPValues(p, "benjamini-hochberg"), adjustPValues(p, "holm")];
        if (!isNear(bh)) expect(bh.map((value) => value <= level)).toEqual(rejectedTo(stepUp));
        if (!isNear(holm))
          expect(holm.map((value) => value <= level)).toEqual(rejectedTo(first === -1 ? m - 1 : first - 1));
      }),
      { numRuns: 200 },
    );
  });

  test("they keep the order of the p-values and never fall below them", () => {
    fc.assert(
      fc.property(list, (p) => {
        for (const method of ["bonferroni", "holm", "hochberg", "benjamini-hochberg", "benjamini-yekutieli"] as const) {
          const adjusted = adjustPValues(p, method);
          p.forEach((value, i) => {
            expect(adjusted[i]).toBeGreaterThanOrEqual(value * (1 - 1e-12));
            p.forEach((other, j) => {
              if (value < other) expect(adjusted[i]).toBeLessThanOrEqual(adjusted[j]!);
            });
          });
        }
      }),
    );
  });

  // Holm (1979), worked by hand: 0.01 * 3, 0.02 * 2, then never falling.
  test("Holm: the smallest p times their number, then one fewer", () => {
    const adjusted = adjustPValues([0.02, 0.01, 0.9], "holm");
    [0.04, 0.03, 0.9].forEach((p, at) => {
      expect(adjusted[at]).toBeCloseTo(p, 12);
    });
    expect(adjustPValues([0.5, 0.6], "holm")).toEqual([1, 1]);
  });

  test("a value out of [0, 1] is refused", () => {
    expect(() => adjustPValues([0.5, 1.2], "holm")).toThrow(/1.2/);
  });
});

describe("ranks", () => {
  const distinct = (n: number) => fc.uniqueArray(fc.integer({ min: -50, max: 50 }), { minLength: n, maxLength: n });

  test("the exact p of two samples counts all draws; shifting both changes nothing, exchanging them mirrors", () => {
    fc.assert(
      fc.property(distinct(9), fc.integer({ min: 1, max: 8 }), (pool, m) => {
        const [x, y] = [pool.slice(0, m), pool.slice(m)];
        const { below, above } = allDraws(x, y);
        const result = twoSampleRank(x, y);
        expect(result.exactP).toBeCloseTo(Math.min(1, 2 * Math.min(below, above)), 10);
        const mirrored = twoSampleRank(y, x);
        expect(mirrored.w).toBe(x.length * y.length - result.w);
        expect(mirrored.shift).toBeCloseTo(-result.shift, 12);
        expect(mirrored.lower).toBe(result.upper === null ? null : -result.upper);
      }),
      { numRuns: 40 },
    );
  });

  test("the exact bounds of the shift are where the exact test just does not reject", () => {
    const [x, y] = [
      [3.1, 4.5, 6.2, 7.7, 9.4],
      [1.2, 2.6, 4.1, 5.3],
    ];
    const { lower, upper } = twoSampleRank(x, y, { confidence: 0.9 });
    const pAt = (shift: number) =>
      twoSampleRank(
        x.map((value) => value - shift),
        y,
      ).exactP ?? Number.NaN;
    expect(pAt(lower! + 1e-6)).toBeGreaterThan(0.1);
    expect(pAt(lower! - 1e-6)).toBeLessThanOrEqual(0.1);
    expect(pAt(upper! - 1e-6)).toBeGreaterThan(0.1);
    expect(pAt(upper! + 1e-6)).toBeLessThanOrEqual(0.1);
  });

  test("samples too small for the confidence have open bounds", () => {
    expect(twoSampleRank([1, 2], [3, 4], { confidence: 0.9 })).toMatchObject({ lower: null, upper: null });
  });

  test("exact p of both rank correlations counts all orders", () => {
    fc.assert(
      fc.property(distinct(6), (y) => {
        const x = [1, 2, 3, 4, 5, 6];
        const result = correlation(x, y);
        const rank = (order: readonly number[]) => order.map((value) => order.filter((other) => other <= value).length);
        const squares = allOrders(y, (order) => rank(order).reduce((sum, value, i) => sum + (value - i - 1) ** 2, 0));
        expect(result.spearman.exactP).toBeCloseTo(Math.min(1, 2 * Math.min(squares.below, squares.above)), 10);
        const pairs = allOrders(y, (order) =>
          order.reduce((sum, value, i) => sum + order.slice(0, i).filter((other) => other < value).length, 0),
        );
        expect(result.kendall.exactP).toBeCloseTo(Math.min(1, 2 * Math.min(pairs.below, pairs.above)), 10);
      }),
      { numRuns: 20 },
    );
  });

  test("rank statistics ignore a monotone change of scale; Pearson's r a straight one", () => {
    const [x, y] = [
      [1, 4, 2, 8, 5, 7, 7],
      [2, 3, 3, 9, 4, 8, 6],
    ];
    const [one, bent] = [
      correlation(x, y),
      correlation(
        x.map((value) => Math.exp(value)),
        y,
      ),
    ];
    expect(bent.spearman.rho).toBeCloseTo(one.spearman.rho, 12);
    expect(bent.kendall.z).toBeCloseTo(one.kendall.z, 12);
    expect(
      correlation(
        x.map((value) => 2.54 * value + 7),
        y,
      ).pearson.r,
    ).toBeCloseTo(one.pearson.r, 12);
  });

  test("two groups: H is the square of the normal two-sample statistic", () => {
    const [x, y] = [
      [1, 4, 2, 8, 5],
      [2, 3, 3, 9, 4, 8, 6],
    ];
    expect(manySampleRank([x, y]).pValue).toBeCloseTo(twoSampleRank(x, y).pNormal, 10);
    expect(manySampleRank([y, x]).h).toBeCloseTo(manySampleRank([x, y]).h, 12);
  });

  test("values that do not vary, and lists of unlike length, are refused", () => {
    expect(() => correlation([1, 1, 1], [1, 2, 3])).toThrow(/values that vary/);
    expect(() => correlation([1, 2, 3, 4], [1, 2, 3])).toThrow(/as many values/);
    expect(() => twoSampleRank([1], [1])).toThrow(/values that vary/);
    expect(() => manySampleRank([[1, 1], [1]])).toThrow(/values that vary/);
    expect(() => twoSampleRank([1, Number.NaN], [1])).toThrow(/value 2/);
  });
});
