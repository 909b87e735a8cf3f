import { chiSquareUpperTail, normalQuantile } from "../../numerics/index.ts";
import { naturalSpline, splineKnots } from "../design/naturalSpline.ts";
import type { Fitter, NamedColumn } from "./fitter.ts";

/** Multiplier of life over a number, bent where the lives bend it. Arrays of equal length. */
export interface BentMultiplier {
  readonly at: readonly number[];
  readonly value: readonly number[];
  readonly lower: readonly number[];
  readonly upper: readonly number[];
  readonly confidence: number;
  /** Likelihood ratio of the bend. */
  readonly straightPValue: number;
}

const POINTS = 41;

/**
 * Life against a number: is too much as bad as too little? A natural spline with three knots at the tenth, fiftieth and
 * ninetieth hundredth of the values, Wald bounds point by point.
 *
 * @param against   Where the multiplier is 1.
 * @param held      Columns held.
 * @param inflation Of variance, >= 1, where lives of one tool are more alike than the model knows.
 * @returns         Null where the values are too few for three knots, or the fit has no maximum.
 * Source           Harrell (2015), Regression Modeling Strategies, section 2.4.5.
 */
export function bentMultiplier(
  fitter: Fitter,
  values: Float64Array,
  against: number,
  held: readonly NamedColumn[],
  confidence: number,
  inflation: number,
): BentMultiplier | null {
  if (new Set(values).size < 5) return null;
  const sorted = Float64Array.from(values).sort();
  const knots = distinctKnots(sorted);
  if (knots === null) return null;
  const bendAt = (x: number) => naturalSpline(x, knots)[1]!;
  const straightColumns = [{ name: "practice", values }, ...held];
  const bent = fitter([straightColumns[0]!, { name: "bend", values: values.map(bendAt) }, ...held]);
  const straight = fitter(straightColumns);
  if (!bent || !straight) return null;
  const [b1, b2] = [bent.coefficients[0]!, bent.coefficients[1]!];
  const [[v11, v12], [, v22]] = bent.covariance as readonly [readonly [number, number], readonly [number, number]];
  const z = -normalQuantile((1 - confidence) / 2);
  const [from, to] = [sorted[Math.floor(0.01 * (sorted.length - 1))]!, sorted[Math.ceil(0.99 * (sorted.length - 1))]!];
  const at = Array.from({ length: POINTS }, (_, index) => from + ((to - from) * index) / (POINTS - 1));
  const points = at.map((x) => {
    const [d1, d2] = [x - against, bendAt(x) - bendAt(against)];
    const log = b1 * d1 + b2 * d2;
    const error = Math.sqrt(Math.max(0, inflation * (v11 * d1 * d1 + 2 * v12 * d1 * d2 + v22 * d2 * d2)));
    return { value: Math.exp(log), lower: Math.exp(log - z * error), upper: Math.exp(log + z * error) };
  });
  return {
    at,
    value: points.map(({ value }) => value),
    lower: points.map(({ lower }) => lower),
    upper: points.map(({ upper }) => upper),
    confidence,
    straightPValue: chiSquareUpperTail(Math.max(0, 2 * (bent.logLikelihood - straight.logLikelihood)) / inflation, 1),
  };
}

function distinctKnots(sorted: Float64Array): readonly number[] | null {
  const at = (fraction: number) => sorted[Math.round(fraction * (sorted.length - 1))]!;
  if (!(at(0.1) < at(0.5) && at(0.5) < at(0.9))) return null;
  return splineKnots("practice", sorted, 3);
}
