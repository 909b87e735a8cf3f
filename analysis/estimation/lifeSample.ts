import { AnalysisError } from "../errors.ts";
import type { LifeSample } from "./types.ts";

/** One life as a caller writes it. Ages in the unit of the sample. */
export interface LifeInput {
  /** Last age known sound; the age of failure where `upper` is the same. */
  readonly lower: number;
  /** First age known failed; null for a life that had not failed. */
  readonly upper: number | null;
  /** Age at which observation began, 0 by default. */
  readonly entry?: number;
  /** Number of like lives, 1 by default; need not be whole. */
  readonly count?: number;
  /** Upper end of the range of `lower`, where that age is not known exactly. */
  readonly lowerHigh?: number;
  /** Upper end of the range of `upper`. */
  readonly upperHigh?: number | null;
  readonly id?: string;
}

export interface LifeSampleInput {
  /** Unit of every age, for instance "h". */
  readonly unit: string;
  readonly lives: readonly LifeInput[];
}

/**
 * Checks lives at the door and turns them into columns; what comes out is trusted after it.
 *
 * @param input  At least one life. lower = upper is an exact failure, upper = null right-censored, else failed in
 *               (lower, upper]. An exact age known only as a range has lower = upper and lowerHigh = upperHigh.
 * Conventions   A life seen sound when it entered at age e cannot have failed before: a lower end below e is raised to e
 *               for a failure found between looks.
 * Errors        "no-lives"; "bad-life" with the row (from 1), its id, the column, the value and why:
 *               "not finite", "negative", "count not above zero", "lower above upper", "range reversed",
 *               "ranges cross", "range without upper", "entry beyond exit".
 */
export function lifeSample({ unit, lives }: LifeSampleInput): LifeSample {
  if (lives.length === 0) throw new AnalysisError("no-lives", { unit });
  const n = lives.length;
  const sample = {
    lower: new Float64Array(n),
    lowerHigh: new Float64Array(n),
    upper: new Float64Array(n),
    upperHigh: new Float64Array(n),
    entry: new Float64Array(n),
    count: new Float64Array(n),
  };
  lives.forEach((life, index) => {
    const checked = checkLife(life, index + 1);
    sample.lower[index] = checked.lower;
    sample.lowerHigh[index] = checked.lowerHigh;
    sample.upper[index] = checked.upper;
    sample.upperHigh[index] = checked.upperHigh;
    sample.entry[index] = checked.entry;
    sample.count[index] = checked.count;
  });
  const ids = lives.some((life) => life.id !== undefined)
    ? lives.map((life, index) => life.id ?? `row ${index + 1}`)
    : null;
  return { unit, n, ...sample, ids };
}

type Column = "lower" | "lowerHigh" | "upper" | "upperHigh" | "entry" | "count";

function checkLife(life: LifeInput, row: number): Readonly<Record<Column, number>> {
  const entry = ageOf(life, row, "entry", life.entry ?? 0);
  const count = life.count ?? 1;
  if (!Number.isFinite(count)) refuse(life, row, "count", count, "not finite");
  if (count <= 0) refuse(life, row, "count", count, "count not above zero");
  let lower = ageOf(life, row, "lower", life.lower);
  let lowerHigh = ageOf(life, row, "lowerHigh", life.lowerHigh ?? life.lower);
  if (lowerHigh < lower) refuse(life, row, "lowerHigh", lowerHigh, "range reversed");

  if (life.upper === null) {
    if (life.upperHigh !== undefined && life.upperHigh !== null) {
      refuse(life, row, "upperHigh", life.upperHigh, "range without upper");
    }
    if (entry > lower) refuse(life, row, "entry", entry, "entry beyond exit");
    return { lower, lowerHigh, upper: Number.POSITIVE_INFINITY, upperHigh: Number.POSITIVE_INFINITY, entry, count };
  }

  const upper = ageOf(life, row, "upper", life.upper);
  const upperHigh = ageOf(life, row, "upperHigh", life.upperHigh ?? life.upper);
  if (upperHigh < upper) refuse(life, row, "upperHigh", upperHigh, "range reversed");
  if (lower > upper) refuse(life, row, "lower", lower, "lower above upper");
  if (lowerHigh > upperHigh) refuse(life, row, "lowerHigh", lowerHigh, "ranges cross");
  if (entry > 0 && entry >= upper) refuse(life, row, "entry", entry, "entry beyond exit");
  const isExact = lower === upper && lowerHigh === upperHigh;
  if (!isExact) {
    lower = Math.max(lower, entry);
    lowerHigh = Math.max(lowerHigh, entry);
  }
  return { lower, lowerHigh, upper, upperHigh, entry, count };
}

function ageOf(life: LifeInput, row: number, column: Column, value: number): number {
  if (!Number.isFinite(value)) return refuse(life, row, column, value, "not finite");
  return value < 0 ? refuse(life, row, column, value, "negative") : value;
}

function refuse(life: LifeInput, row: number, column: Column, value: number, why: string): never {
  throw new AnalysisError("bad-life", { row, id: life.id ?? null, column, value: String(value), why });
}
