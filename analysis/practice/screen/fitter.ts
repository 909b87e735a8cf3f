/** One way to ask every model the same: how a column goes with the length of life. */

export interface NamedColumn {
  readonly name: string;
  /** One a life, finite. */
  readonly values: Float64Array;
}

export interface FittedColumns {
  readonly logLikelihood: number;
  /** Coefficients of log life, in the order of the columns; exp(coefficient) multiplies life. */
  readonly coefficients: readonly number[];
  /** Standard errors, in the order of the columns: of the model, and by tool. */
  readonly errors: readonly number[];
  readonly errorsByTool: readonly number[];
  /** Of the model, in the order of the columns. */
  readonly covariance: readonly (readonly number[])[];
  /** 1 / shape of the Weibull law. */
  readonly spread: number;
  /** Likelihood-ratio ends of a coefficient where twice the drop of the log likelihood is `twiceDrop`; null is unbounded. */
  readonly ends: (column: number, twiceDrop: number) => readonly [lower: number | null, upper: number | null];
}

/** Fits log life on columns; null where the likelihood has no maximum. */
export type Fitter = (columns: readonly NamedColumn[]) => FittedColumns | null;
