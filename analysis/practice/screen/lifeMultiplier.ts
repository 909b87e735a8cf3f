import { studentCdf, studentQuantile } from "../../numerics/index.ts";
import type { FittedColumns, Fitter, NamedColumn } from "./fitter.ts";

/** How many times as long a life lasts with one practice as with another. */
export interface LifeMultiplier {
  readonly value: number;
  /** Null: unbounded on that side. */
  readonly lower: number | null;
  readonly upper: number | null;
  readonly confidence: number;
  /** Two-sided, of "no difference". */
  readonly pValue: number;
}

/** A comparison before its bounds: enough to rank it, and to draw bounds at any confidence. */
export interface Comparison {
  readonly value: number;
  readonly pValue: number;
  /** Of log life, for one unit of the column. */
  readonly coefficient: number;
  readonly error: number;
  readonly spread: number;
  readonly at: (confidence: number) => LifeMultiplier;
}

/**
 * The multiplier of life for a step of the first column, the others held, with likelihood-ratio test and bounds. Where lives of
 * one tool are more alike than the model knows, twice the drop is divided by how much larger the variance by tool is; it is
 * never multiplied. The reference is Student's t with tools - 1 degrees of freedom for the signed root.
 *
 * @param step   Difference of the column that the multiplier is stated for.
 * @param tools  Number of serials.
 * @returns      Null where either fit has no maximum: nobody can tell.
 * Source        Lawless (2003), section 6.3, for the likelihood ratio; scaling by the sandwich: Rotnitzky & Jewell (1990),
 *               Biometrika 77, 485-497; calibration on simulated shops in tests/studies/results/practice-study.md.
 */
export function lifeMultiplier(
  fitter: Fitter,
  columns: readonly [NamedColumn, ...NamedColumn[]],
  step: number,
  tools: number,
): Comparison | null {
  const [, ...held] = columns;
  const full = fitter(columns);
  const without = fitter(held);
  if (!full || !without) return null;
  const inflation = inflationOf(full);
  const coefficient = full.coefficients[0]!;
  const twiceDrop = Math.max(0, 2 * (full.logLikelihood - without.logLikelihood)) / inflation;
  const freedom = Math.max(1, tools - 1);
  const pValue = Math.min(1, 2 * studentCdf(-Math.sqrt(twiceDrop), freedom));
  const value = Math.exp(coefficient * step);
  return {
    value,
    pValue,
    coefficient,
    error: full.errors[0]! * Math.sqrt(inflation),
    spread: full.spread,
    at: (confidence) => {
      const ends = full.ends(0, studentQuantile((1 + confidence) / 2, freedom) ** 2 * inflation);
      const [lower, upper] = ends.map((end) => (end === null ? null : Math.exp(end * step)));
      const [least, most] = step < 0 ? [upper, lower] : [lower, upper];
      return { value, lower: least ?? null, upper: most ?? null, confidence, pValue };
    },
  };
}

const inflationOf = ({ errors, errorsByTool }: FittedColumns): number =>
  Math.max(1, (errorsByTool[0]! / errors[0]!) ** 2);
