import { z } from "zod";
import { adjustPValues, type PAdjustment } from "../../../analysis/practice/comparisons/adjustPValues.ts";
import { binomialInterval } from "../../../analysis/practice/comparisons/binomialInterval.ts";
import { correlation } from "../../../analysis/practice/comparisons/correlation.ts";
import { manySampleRank } from "../../../analysis/practice/comparisons/manySampleRank.ts";
import { trendInProportions } from "../../../analysis/practice/comparisons/trendInProportions.ts";
import { twoSampleRank } from "../../../analysis/practice/comparisons/twoSampleRank.ts";
import { twoWayTable } from "../../../analysis/practice/comparisons/twoWayTable.ts";
import { halfPrintedUnit } from "./printedUnit.ts";
import { countValues } from "./runCases.ts";
import type { Comparer, Comparers, ReferenceCase, Report, Value } from "./types.ts";

const numbers = z.array(z.number());
const record = z.record(z.string(), z.custom<Value>());
const bounds = ({ lower, upper }: { readonly lower: number | null; readonly upper: number | null }): Value => ({
  lower,
  upper,
});

/** Compares the named values; what is expected beyond them is not covered, by name. */
function compareAll(one: ReferenceCase, report: Report, computed: Readonly<Record<string, Value>>): void {
  for (const [name, value] of Object.entries(record.parse(one.expected))) {
    if (name in computed) report.compare(name, computed[name], value);
    else report.notCovered(name, countValues(value));
  }
}

/** Printed values, each to half a unit of its last digit. */
function comparePublished(one: ReferenceCase, report: Report, computed: readonly number[]): void {
  for (const { what, values } of one.publishedValues ?? []) {
    numbers.parse(values).forEach((value, i) => {
      report.compare(`published ${String(what)}`, computed[i], value, { absolute: halfPrintedUnit(value) });
    });
  }
}

const compareTable: Comparer = (one, report) => {
  const { table } = z.object({ table: z.array(numbers) }).parse(one.data);
  const { fisher, ...rest } = record.parse(one.expected);
  const result = twoWayTable(table, { confidence: 0.95 });
  const two = result.twoByTwo;
  compareAll({ ...one, expected: rest }, report, {
    chiSquare: result.chiSquare,
    df: result.degreesOfFreedom,
    chiSquareP: result.chiSquareP,
    expected: result.expected,
    fisherP: result.exactP,
    cramersV: result.cramersV,
    ...(two
      ? {
          yates: { chiSquare: two.corrected.chiSquare, p: two.corrected.pValue },
          sampleOddsRatio: two.sampleOddsRatio,
        }
      : {}),
  });
  if (!two || fisher === undefined) return;
  compareAll({ ...one, expected: fisher }, report, {
    conditionalOddsRatio: two.conditionalOddsRatio.value,
    ci95: bounds(two.conditionalOddsRatio),
    ci90: bounds(
      twoWayTable(table, { confidence: 0.9 }).twoByTwo?.conditionalOddsRatio ?? { lower: null, upper: null },
    ),
    pLess: two.less,
    pGreater: two.greater,
  });
  comparePublished(one, report, [result.exactP ?? Number.NaN, two.conditionalOddsRatio.value ?? Number.NaN]);
};

const compareTrend: Comparer = (one, report) => {
  const { failures, n, scores } = z.object({ failures: numbers, n: numbers, scores: numbers }).parse(one.data);
  const result = trendInProportions(failures, n, scores);
  compareAll(one, report, {
    chiSquare: result.chiSquare,
    z: result.z,
    p: result.pValue,
    homogeneityChiSquare: result.homogeneity.chiSquare,
  });
};

const compareBinomial: Comparer = (one, report) => {
  const { x, n } = z.object({ x: numbers, n: numbers }).parse(one.data);
  const { rows } = z.object({ rows: z.array(record) }).parse(one.expected);
  rows.forEach((row, i) => {
    const at = (confidence: number, method: "exact" | "score") =>
      binomialInterval(x[i] ?? 0, n[i] ?? 0, { confidence, method });
    compareAll({ ...one, expected: row }, report, {
      x: x[i] ?? null,
      n: n[i] ?? null,
      clopperPearson95: bounds(at(0.95, "exact")),
      clopperPearson90: bounds(at(0.9, "exact")),
      wilson95: bounds(at(0.95, "score")),
      wilson90: bounds(at(0.9, "score")),
      upperOneSided95: at(0.9, "exact").upper,
      lowerOneSided95: at(0.9, "exact").lower,
    });
  });
};

const adjustments: Readonly<Record<string, PAdjustment>> = {
  holm: "holm",
  benjaminiHochberg: "benjamini-hochberg",
  bonferroni: "bonferroni",
  hochberg: "hochberg",
  benjaminiYekutieli: "benjamini-yekutieli",
};

const compareAdjustment: Comparer = (one, report) => {
  const { p } = z.object({ p: numbers }).parse(one.data);
  compareAll(
    one,
    report,
    Object.fromEntries(Object.entries(adjustments).map(([name, method]) => [name, adjustPValues(p, method)])),
  );
};

const compareCorrelation: Comparer = (one, report) => {
  const { x, y } = z.object({ x: numbers, y: numbers }).parse(one.data);
  const expected = z
    .object({
      spearman: z.object({ pExactR: z.number().optional() }),
      kendall: z.object({ pExact: z.number().optional() }),
    })
    .parse(one.expected);
  const { hasTies, pearson, spearman, kendall } = correlation(x, y, { confidence: 0.95 });
  compareAll(one, report, {
    ties: hasTies,
    pearson: { r: pearson.r, p: pearson.pValue, ci95: bounds(pearson) },
    spearman: { rho: spearman.rho, S: spearman.s, pApproxT: spearman.pValue, pExactR: spearman.exactP },
    kendall: { tau: kendall.tau, z: kendall.z, pNormal: kendall.pValue, pExact: kendall.exactP, T: kendall.concordant },
  });
  // What cannot be computed exactly is expected nowhere.
  report.compare(
    "exact p where there is one",
    [spearman.exactP, kendall.exactP],
    [expected.spearman.pExactR ?? null, expected.kendall.pExact ?? null],
  );
  comparePublished(one, report, [kendall.tau, kendall.exactP ?? Number.NaN]);
};

const compareTwoSample: Comparer = (one, report) => {
  const { x, y } = z.object({ x: numbers, y: numbers }).parse(one.data);
  const result = twoSampleRank(x, y, { confidence: 0.95 });
  compareAll(one, report, {
    W: result.w,
    ties: result.hasTies,
    pNormalContinuity: result.pNormalCorrected,
    pNormal: result.pNormal,
    pExact: result.exactP,
    hodgesLehmann: result.shift,
    ci95Exact: bounds(result),
    welchT: { t: result.welch?.t ?? null, df: result.welch?.degreesOfFreedom ?? null, p: result.welch?.pValue ?? null },
  });
  // The printed p is one-sided, in the direction seen: half the two-sided one, which is twice the smaller tail.
  comparePublished(one, report, [result.w, 0.5 * (result.exactP ?? Number.NaN)]);
};

const compareManySample: Comparer = (one, report) => {
  const { groups } = z.object({ groups: z.array(numbers) }).parse(one.data);
  const result = manySampleRank(groups);
  compareAll(one, report, {
    H: result.h,
    df: result.degreesOfFreedom,
    p: result.pValue,
    anovaF: result.variance?.f ?? null,
    anovaP: result.variance?.pValue ?? null,
  });
  comparePublished(one, report, [result.h, result.pValue]);
};

/** Tables, shares, trends, rank tests, adjusted p-values. */
export const contingencyComparers: Comparers = {
  "two-way-table": compareTable,
  "trend-in-proportions": compareTrend,
  "binomial-interval": compareBinomial,
  "p-adjustment": compareAdjustment,
  correlation: compareCorrelation,
  "two-sample-rank": compareTwoSample,
  "many-sample-rank": compareManySample,
};
