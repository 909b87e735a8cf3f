import { AnalysisError } from "../../errors.ts";
import type { HazardRows } from "../types.ts";
import { hazardRows } from "./hazardRows.ts";

/** A life with the runs that it was through. Ages on the clock of the study. */
export interface ExposedLife {
  readonly id?: string;
  /** Age at which observation began, 0 by default. */
  readonly entry?: number;
  readonly stop: number;
  readonly failed: boolean;
  readonly runs: readonly {
    readonly from: number;
    readonly to: number;
    /** What an hour of this run adds to each exposure: 1 for hours above a temperature, revolutions, 0 for none. */
    readonly perHour: readonly number[];
  }[];
}

export interface ExposureRows {
  readonly rows: HazardRows;
  /** Row by row, one value an exposure: cumulated up to the start of the row. */
  readonly values: Float64Array;
  /** Index of the life of each row. */
  readonly life: Uint32Array;
}

/**
 * Cuts lives at their runs, so that what was cumulated up to a run can explain what happened in it.
 *
 * @param exposures  Number of exposures k.
 * Conventions       A row carries what was cumulated before it began: nothing of the run that may itself have ended the life. Age
 *                   outside every run adds nothing. Runs beyond the end of the life are not used.
 * Errors            "no-lives"; "bad-setting" for runs that overlap or are not in order, or that do not carry k finite values;
 *                   "bad-life" as `hazardRows`.
 */
export function exposureRows(unit: string, lives: readonly ExposedLife[], exposures: number): ExposureRows {
  const rows: Parameters<typeof hazardRows>[1][number][] = [];
  const values: number[] = [];
  const life: number[] = [];
  lives.forEach((one, index) => {
    const { entry = 0, stop, runs } = one;
    const name = one.id ?? `life ${index + 1}`;
    checkRuns(name, runs, exposures);
    const cuts = runs.flatMap(({ from, to }) => [from, to]).filter((age) => age > entry && age < stop);
    const ends = [...new Set([...cuts, stop])].sort((a, b) => a - b);
    let start = entry;
    for (const end of ends) {
      rows.push({
        start,
        stop: end,
        failed: one.failed && end === stop,
        ...(one.id === undefined ? {} : { id: one.id }),
      });
      life.push(index);
      for (let k = 0; k < exposures; k++) {
        const before = (run: ExposedLife["runs"][number]): number => Math.max(0, Math.min(run.to, start) - run.from);
        values.push(runs.reduce((sum, run) => sum + before(run) * run.perHour[k]!, 0));
      }
      start = end;
    }
  });
  return { rows: hazardRows(unit, rows), values: Float64Array.from(values), life: Uint32Array.from(life) };
}

function checkRuns(life: string, runs: ExposedLife["runs"], exposures: number): void {
  runs.forEach(({ from, to, perHour }, i) => {
    const refuse = (allowed: string): never => {
      throw new AnalysisError("bad-setting", {
        setting: `run ${i + 1} of ${life}`,
        value: `${from} to ${to}`,
        allowed,
      });
    };
    if (!(to > from && from >= (runs[i - 1]?.to ?? 0))) refuse("in order, none overlapping");
    if (perHour.length !== exposures || !perHour.every(Number.isFinite)) refuse(`${exposures} finite values an hour`);
  });
}
