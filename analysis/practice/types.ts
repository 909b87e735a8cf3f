/** Vocabulary of regression on lives: what goes in, what comes out. Plain data, so that a result can be stored and sent. */

import type { CovarianceMatrix } from "../estimation/fitLaw.ts";
import type { FitCounts } from "../estimation/fitWeibull.ts";
import type { LifeSample } from "../estimation/types.ts";

/** Laws of log life: log T = intercept + x'b + spread W. Weibull: shape = 1 / spread; exponential: spread 1. */
export type RegressionLaw = "weibull" | "exponential" | "lognormal" | "loglogistic";

/** Columns that stand or fall together: one number, a factor, a spline, an interaction. */
export interface DesignTerm {
  readonly name: string;
  /** Indexes of its columns. */
  readonly columns: readonly number[];
}

/** Explanatory variables as numbers, one row a life in the order of the sample; no column for the intercept. */
export interface DesignMatrix {
  readonly rows: number;
  /** Names of the k columns, each once. */
  readonly names: readonly string[];
  /** Row by row: column j of row i is values[i * k + j]. Finite. */
  readonly values: Float64Array;
  readonly terms: readonly DesignTerm[];
}

/**
 * A normal prior on every coefficient but the intercept: mean 0, deviation `deviation` for one standard deviation of the
 * column, on the scale of log life (log hazard). It bounds an estimate where the lives alone do not (a group without failures).
 */
export interface NormalPenalty {
  readonly deviation: number;
}

export interface LifeRegressionInput {
  readonly sample: LifeSample;
  readonly design: DesignMatrix;
  readonly law: RegressionLaw;
  /** Tool of each life: adds a covariance that holds where lives of one tool are alike. */
  readonly clusters?: readonly string[];
  /** Absent: maximum likelihood. */
  readonly penalty?: NormalPenalty;
  /** Newton steps before "not converged" is said. */
  readonly maxIterations?: number;
}

/**
 * Where the likelihood has its maximum, or why it has none:
 *   separated            it still rises as the coefficients in `unbounded` run off (a group without failures, say)
 *   columns dependent    the columns in `dependent` are sums of others: nobody can tell their effects apart
 *   spread shrinks to 0  the columns explain every life exactly
 */
export type RegressionMaximum =
  | "found"
  | "no failures"
  | "separated"
  | "columns dependent"
  | "spread shrinks to 0"
  | "not converged";

/** A coefficient with its Wald interval and test. */
export interface Coefficient {
  readonly name: string;
  readonly estimate: number;
  /** From the observed information, or from the clusters where the fit has them and `robust` is asked for. */
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
  /** Two-sided normal test of 0. */
  readonly pValue: number;
  readonly confidence: number;
  readonly method: "wald" | "wald, by cluster";
}

/** Worded elsewhere. */
export interface PracticeNotice {
  readonly code: "few-failures-per-coefficient" | "few-clusters" | "penalised";
  readonly facts: Readonly<Record<string, string | number | null>>;
}

interface LifeRegressionBase {
  readonly law: RegressionLaw;
  readonly unit: string;
  readonly counts: FitCounts;
  readonly iterations: number;
  readonly notices: readonly PracticeNotice[];
}

export interface LifeRegressionFound extends LifeRegressionBase {
  readonly maximum: "found";
  /** "intercept", then the columns of the design. exp(coefficient) multiplies life. */
  readonly names: readonly string[];
  readonly coefficients: readonly number[];
  /** sigma; 1 / shape for Weibull, 1 for exponential. */
  readonly spread: number;
  /** Inverse of the observed information in (intercept, columns, logSpread); no logSpread for exponential. */
  readonly covariance: CovarianceMatrix;
  /** Sandwich over clusters, same layout; null without clusters. */
  readonly robustCovariance: CovarianceMatrix | null;
  readonly clusters: number | null;
  /** All density terms kept, on the scale of ages; without the penalty. */
  readonly logLikelihood: number;
  /** With the penalty; equal to `logLikelihood` without one. */
  readonly penalisedLogLikelihood: number;
  /** Of the same law without columns. Null where that has no maximum. */
  readonly nullLogLikelihood: number | null;
  /** All columns at once: 2 (logLikelihood - nullLogLikelihood) on `degreesOfFreedom`. Null with a penalty. */
  readonly likelihoodRatio: {
    readonly chiSquare: number;
    readonly degreesOfFreedom: number;
    readonly pValue: number;
  } | null;
  readonly akaike: number;
  /** Largest absolute derivative by a coordinate, times its standard error. */
  readonly largestScore: number;
  readonly penalty: NormalPenalty | null;
}

export interface LifeRegressionNotFound extends LifeRegressionBase {
  readonly maximum: Exclude<RegressionMaximum, "found">;
  /** For "separated": what runs off, and whether towards longer or shorter life. */
  readonly unbounded: readonly { readonly name: string; readonly towards: "longer life" | "shorter life" }[];
  /** For "columns dependent". */
  readonly dependent: readonly string[];
}

export type LifeRegression = LifeRegressionFound | LifeRegressionNotFound;

/** A likelihood-ratio interval; a null end is open. */
export interface RatioBounds {
  readonly name: string;
  readonly estimate: number;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly confidence: number;
  readonly method: "likelihood ratio";
}

/**
 * Follow-up in rows of age (start, stop], columns of length n: at risk after `start`, up to and including `stop`. A life under one
 * condition is one row; one whose explanatory variables change with age is several, the last of which may fail.
 */
export interface HazardRows {
  readonly unit: string;
  readonly n: number;
  readonly start: Float64Array;
  readonly stop: Float64Array;
  /** 1: failed at `stop`; 0: no longer followed, or goes on in the next row. */
  readonly failed: Uint8Array;
  /** Number of like rows, whole. */
  readonly count: Float64Array;
  readonly ids: readonly string[] | null;
}

/** Ages that agree because they were rounded: "efron" treats them as close together, "breslow" roughly, for comparison. */
export type Ties = "efron" | "breslow";

/** "bias-reducing": half the log determinant of the information is added; always has a maximum. */
export type HazardPenalty = "bias-reducing" | NormalPenalty;

export interface ProportionalHazardsInput {
  readonly rows: HazardRows;
  readonly design: DesignMatrix;
  /** "efron" by default. */
  readonly ties?: Ties;
  /** Rows are compared only within a stratum; each has a hazard of its own over age. */
  readonly strata?: readonly string[];
  /** Tool of each row: adds a covariance that holds where rows of one tool are alike. */
  readonly clusters?: readonly string[];
  readonly penalty?: HazardPenalty;
  readonly maxIterations?: number;
}

/** A chi-square test of several coefficients at once. */
export interface JointTest {
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly pValue: number;
}

interface ProportionalHazardsBase {
  readonly unit: string;
  readonly ties: Ties;
  /** Counts, not rows. */
  readonly rows: number;
  readonly failures: number;
  readonly strata: number;
  readonly iterations: number;
  readonly notices: readonly PracticeNotice[];
}

export interface ProportionalHazardsFound extends ProportionalHazardsBase {
  readonly maximum: "found";
  readonly names: readonly string[];
  /** exp(coefficient) multiplies the hazard. */
  readonly coefficients: readonly number[];
  /** Inverse of the observed information. */
  readonly covariance: CovarianceMatrix;
  readonly robustCovariance: CovarianceMatrix | null;
  readonly clusters: number | null;
  /** Log partial likelihood at the estimate, without the penalty, and with it. */
  readonly logLikelihood: number;
  readonly penalisedLogLikelihood: number;
  /** At coefficients 0, without the penalty, and with it. */
  readonly nullLogLikelihood: number;
  readonly nullPenalisedLogLikelihood: number;
  /** All coefficients 0? By the (penalised) likelihood; from the estimate; from the score at 0. */
  readonly likelihoodRatio: JointTest;
  readonly wald: JointTest | null;
  readonly score: JointTest | null;
  /** The same by the covariance over clusters; null without clusters, or with fewer than coefficients. */
  readonly robustWald: JointTest | null;
  readonly robustScore: JointTest | null;
  readonly largestScore: number;
  readonly penalty: HazardPenalty | null;
}

export interface ProportionalHazardsNotFound extends ProportionalHazardsBase {
  readonly maximum: Exclude<RegressionMaximum, "found" | "spread shrinks to 0">;
  /** For "separated": what runs off, and whether towards more or fewer failures. */
  readonly unbounded: readonly { readonly name: string; readonly towards: "longer life" | "shorter life" }[];
  readonly dependent: readonly string[];
}

export type ProportionalHazards = ProportionalHazardsFound | ProportionalHazardsNotFound;
