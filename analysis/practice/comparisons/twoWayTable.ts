import { AnalysisError } from "../../errors.ts";
import { chiSquareUpperTail } from "../../numerics/index.ts";
import { checkCounts } from "./checkCounts.ts";
import { type ConditionalOddsRatio, conditionalOddsRatio, hypergeometricTails } from "./conditionalOddsRatio.ts";
import { exactTableTest } from "./exactTableTest.ts";

export interface TwoWayTable {
  /** Counts expected were rows and columns unrelated. */
  readonly expected: readonly (readonly number[])[];
  /** Smallest expected count: below about 5 the chi-square p is rough (common practice), the exact one is not. */
  readonly smallestExpected: number;
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly chiSquareP: number;
  /** Fisher's exact test, two-sided. Null: too large a table. */
  readonly exactP: number | null;
  /** sqrt(chi-square / (n (min(rows, columns) - 1))), from 0 to 1. */
  readonly cramersV: number;
  readonly twoByTwo: TwoByTwo | null;
}

export interface TwoByTwo {
  /** With Yates's continuity correction. */
  readonly corrected: { readonly chiSquare: number; readonly pValue: number };
  /** a d / (b c); null: infinite or 0 / 0. */
  readonly sampleOddsRatio: number | null;
  readonly conditionalOddsRatio: ConditionalOddsRatio;
  /** One-sided exact tests of the first cell. */
  readonly less: number;
  readonly greater: number;
}

/**
 * Are two factors of lives related? Rows then columns, whole counts.
 *
 * Errors   "bad-setting" for fewer than two rows or columns with counts, ragged rows, or counts that are not whole.
 * Source   Agresti (2013), Categorical Data Analysis, sections 3.2 and 3.5; Yates (1934); Cramer (1946).
 */
export function twoWayTable(
  table: readonly (readonly number[])[],
  { confidence = 0.9 }: { readonly confidence?: number } = {},
): TwoWayTable {
  checkCounts("cell of the table", table.flat());
  const width = table[0]?.length ?? 0;
  const rows = table.map((row) => row.reduce((sum, cell) => sum + cell, 0));
  const columns = Array.from({ length: width }, (_, j) => table.reduce((sum, row) => sum + (row[j] ?? 0), 0));
  const usable = (totals: readonly number[]): boolean => totals.length >= 2 && totals.every((total) => total > 0);
  if (table.some((row) => row.length !== width) || !usable(rows) || !usable(columns)) {
    throw new AnalysisError("bad-setting", {
      setting: "table",
      value: `${table.length} x ${width}`,
      allowed: "two rows and columns or more, each with a count",
    });
  }
  const n = rows.reduce((sum, total) => sum + total, 0);
  const expected = rows.map((row) => columns.map((column) => (row * column) / n));
  const distance = (correction: number): number =>
    expected.reduce(
      (sum, row, i) =>
        sum + row.reduce((part, cell, j) => part + (Math.abs(table[i]![j]! - cell) - correction) ** 2 / cell, 0),
      0,
    );
  const chiSquare = distance(0);
  const degreesOfFreedom = (rows.length - 1) * (columns.length - 1);
  const isTwoByTwo = rows.length === 2 && columns.length === 2;
  return {
    expected,
    smallestExpected: Math.min(...expected.flat()),
    chiSquare,
    degreesOfFreedom,
    chiSquareP: chiSquareUpperTail(chiSquare, degreesOfFreedom),
    exactP: exactTableTest(table),
    cramersV: Math.sqrt(chiSquare / (n * (Math.min(rows.length, columns.length) - 1))),
    twoByTwo: isTwoByTwo ? ofTwoByTwo(table, Math.abs(table[0]![0]! - expected[0]![0]!), distance, confidence) : null,
  };
}

function ofTwoByTwo(
  table: readonly (readonly number[])[],
  gap: number,
  distance: (correction: number) => number,
  confidence: number,
): TwoByTwo {
  const [[a = 0, b = 0] = [], [c = 0, d = 0] = []] = table;
  const chiSquare = distance(Math.min(0.5, gap));
  return {
    corrected: { chiSquare, pValue: chiSquareUpperTail(chiSquare, 1) },
    sampleOddsRatio: b * c === 0 ? null : (a * d) / (b * c),
    conditionalOddsRatio: conditionalOddsRatio(table, confidence),
    ...hypergeometricTails(table),
  };
}
