import { AnalysisError } from "../../errors.ts";
import type { LifeSample } from "../../estimation/types.ts";
import { requireCensoring } from "../../nonparametric/censoring.ts";
import type { HazardRows } from "../types.ts";

export interface HazardRowInput {
  readonly start: number;
  readonly stop: number;
  readonly failed: boolean;
  readonly count?: number;
  readonly id?: string;
}

/**
 * Checks start-stop rows at the door.
 *
 * Errors  "no-lives"; "bad-life" with row, id, column, value and why: "not finite", "negative", "entry beyond exit" (stop must
 *         lie after start), "not whole".
 */
export function hazardRows(unit: string, rows: readonly HazardRowInput[]): HazardRows {
  if (rows.length === 0) throw new AnalysisError("no-lives", { unit });
  const n = rows.length;
  const columns = {
    start: new Float64Array(n),
    stop: new Float64Array(n),
    failed: new Uint8Array(n),
    count: new Float64Array(n),
  };
  rows.forEach((row, i) => {
    const { start, stop, count = 1 } = row;
    const refuse = (column: string, value: number, why: string): never => {
      throw new AnalysisError("bad-life", { row: i + 1, id: row.id ?? null, column, value: String(value), why });
    };
    if (!Number.isFinite(start)) refuse("start", start, "not finite");
    if (!Number.isFinite(stop)) refuse("stop", stop, "not finite");
    if (start < 0) refuse("start", start, "negative");
    if (!(stop > start)) refuse("stop", stop, "entry beyond exit");
    if (!(Number.isInteger(count) && count > 0)) refuse("count", count, "not whole");
    columns.start[i] = start;
    columns.stop[i] = stop;
    columns.failed[i] = row.failed ? 1 : 0;
    columns.count[i] = count;
  });
  const ids = rows.some(({ id }) => id !== undefined) ? rows.map(({ id }, i) => id ?? `row ${i + 1}`) : null;
  return { unit, n, ...columns, ids };
}

/**
 * Lives under one condition as rows: from their age of entry to their end.
 *
 * Errors  "unsupported-censoring" for a life whose age of failure is not known exactly: it takes the regression of
 *         `piecewiseHazard`, or of life; "bad-life" as `hazardRows`.
 */
export function hazardRowsOfLives(sample: LifeSample): HazardRows {
  requireCensoring(sample, "proportional hazards", ["exact", "right"]);
  return hazardRows(
    sample.unit,
    Array.from(sample.lower, (stop, i) => ({
      start: sample.entry[i]!,
      stop,
      failed: sample.upper[i] !== Number.POSITIVE_INFINITY,
      count: sample.count[i]!,
      ...(sample.ids ? { id: sample.ids[i]! } : {}),
    })),
  );
}
