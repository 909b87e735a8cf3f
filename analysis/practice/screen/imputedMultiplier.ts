import { randomStream } from "../../estimation/bootstrap/randomStream.ts";
import { normalQuantile, studentCdf, studentQuantile } from "../../numerics/index.ts";
import type { Fitter, NamedColumn } from "./fitter.ts";
import type { LifeMultiplier } from "./lifeMultiplier.ts";
import { weightedLeastSquares } from "./weightedLeastSquares.ts";

const TIMES = 10;

/**
 * The multiplier with what is missing filled in from everything else, several times, with the scatter that the written values
 * have; the estimates are pooled. It stands beside the complete lives: where the two differ, what is missing matters.
 *
 * @param values    NaN where missing.
 * @param predictors What fills the gaps, the outcome among it: left out, filled-in values would pull the effect to nothing.
 * @returns         Null where a fit has no maximum.
 * Source           Rubin (1987), Multiple Imputation for Nonresponse in Surveys; White & Royston (2009), Statistics in Medicine
 *                  28, 1982-1998, for the outcome among the predictors.
 */
export function imputedMultiplier({
  fitter,
  values,
  predictors,
  held,
  step,
  confidence,
  seed,
}: {
  readonly fitter: Fitter;
  readonly values: Float64Array;
  readonly predictors: readonly Float64Array[];
  readonly held: (filled: Float64Array) => readonly NamedColumn[];
  readonly step: number;
  readonly confidence: number;
  readonly seed: number;
}): LifeMultiplier | null {
  const known = values.map((value) => (Number.isNaN(value) ? 0 : 1));
  const written = values.map((value) => (Number.isNaN(value) ? 0 : value));
  const { fitted } = weightedLeastSquares(written, predictors, known);
  const count = known.reduce((sum, value) => sum + value, 0);
  let squares = 0;
  for (let i = 0; i < values.length; i++) squares += known[i]! * (written[i]! - fitted[i]!) ** 2;
  const scatter = Math.sqrt(squares / Math.max(1, count - predictors.length - 1));
  const stream = randomStream(seed);
  const estimates: number[] = [];
  let within = 0;
  for (let time = 0; time < TIMES; time++) {
    const filled = values.map((value, i) =>
      Number.isNaN(value)
        ? fitted[i]! + scatter * normalQuantile(Math.min(1 - 1e-12, Math.max(1e-12, stream.uniform())))
        : value,
    );
    const fit = fitter([{ name: "practice", values: filled }, ...held(filled)]);
    if (!fit) return null;
    estimates.push(fit.coefficients[0]!);
    within += Math.max(fit.errors[0]!, fit.errorsByTool[0]!) ** 2 / TIMES;
  }
  const mean = estimates.reduce((sum, value) => sum + value, 0) / TIMES;
  const between = estimates.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (TIMES - 1);
  const added = (1 + 1 / TIMES) * between;
  const error = Math.sqrt(within + added);
  const freedom = Math.min(1e6, (TIMES - 1) * (1 + within / Math.max(added, 1e-12)) ** 2);
  const width = studentQuantile((1 + confidence) / 2, freedom) * error * Math.abs(step);
  return {
    value: Math.exp(mean * step),
    lower: Math.exp(mean * step - width),
    upper: Math.exp(mean * step + width),
    confidence,
    pValue: Math.min(1, 2 * studentCdf(-Math.abs(mean) / error, freedom)),
  };
}
