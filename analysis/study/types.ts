/**
 * Questions and results as plain JSON: what views, command line and statement read. Results carry their evidence:
 * estimate, bounds with method and confidence, counts, units, convergence, notices, provenance, life ids.
 * Nothing here is NaN or Infinity: an absent number is null, with the reason in words beside it.
 */

import type { LawName } from "../distributions/lawFamilies.ts";
import type { EstimationNotice } from "../estimation/estimationNotice.ts";
import type { Age, HoursAccount, Life, LifeKind, LivesNotice, LookMark, RunMark, ToolEvent } from "../lives/types.ts";
import type { Row, RowRef } from "../records/descriptor.ts";
import type { BuildPracticeResult, PracticeChoice, SettlingGoal } from "./buildPractice/types.ts";
import type { DecisionSettings, RedressIntervalResult } from "./decisionTypes.ts";
import type { FleetResult } from "./fleetTypes.ts";

/** What a question is about. Null means "all". Written into the address of every view. */
export interface Scope {
  readonly toolType: string | null;
  readonly sizeIn: number | null;
  readonly item: string | null;
  readonly mode: string | null;
  readonly serial: string | null;
  readonly customer: string | null;
  /** Inclusive dates. Item life: restored between. What fails: hours run and failures found between. */
  readonly from: string | null;
  readonly to: string | null;
  /** Only these tools; absent means "all". */
  readonly serials?: readonly string[];
  /** Runs, hours and failures of runs in these wells; absent means "all". Lives run through several wells: not limited. */
  readonly wells?: readonly string[];
}

/** A question and its settings, immutable; `studyHash` names it. */
export interface StudyDefinition {
  readonly question: "item life" | "what fails" | "tool history" | "build practice" | "redress interval" | "fleet";
  readonly scope: Scope;
  readonly cutoff: string | null;
  readonly thresholds: Readonly<Record<string, number>>;
  readonly refittedMeansSound: boolean;
  readonly hoursKind: "circulating" | "drilling" | "below rotary" | null;
  /** Treatment of ages that are ranges because hours were not written down. */
  readonly missingHours: "shop rate" | "averaged" | "all low" | "all high" | "left out";
  /** Cells and rows that the audit doubts and nobody has settled: used as they are, unless left out to see the difference. */
  readonly openAudit?: "used" | "left out";
  /** Two-sided confidence of every bound, 0 < confidence < 1. */
  readonly confidence: number;
  /** Age in hours at which reliability is stated; null takes the median length of a life in scope. */
  readonly statedAge: number | null;
  readonly seed: number;
  /** Costs and allowed risk of a decision; the usual ones where left out. */
  readonly decision?: DecisionSettings;
  /** Build practice: the comparison looked at closely; left out, the first of the list. */
  readonly focus?: PracticeChoice;
  /** Build practice: the multiplier of life that a trial is to find, and the chance. Left out: not asked, it takes seconds. */
  readonly settle?: SettlingGoal;
  /** Law that readings, curve and bounds of a life are read from; Weibull where left out. */
  readonly law?: LawChoice;
  /** How bounds of a life are had. Left out: likelihood ratio, or by serial where the tools are shown to differ. */
  readonly bounds?: BoundsChoice;
  /** "lower": one-sided lower bounds at the confidence, for claims. Left out: both. */
  readonly sides?: "both" | "lower";
  /** The Weibull shape where the failures are too few to tell it. Left out: from these lives alone. */
  readonly shape?: ShapeChoice;
}

/** "by serial": whole tools resampled, each with all its lives and looks. */
export type BoundsChoice = "likelihood ratio" | "by serial" | "Wald";

/** A shape from elsewhere: one number; a range and how sure of it; or what the other modes and sizes of these records tell. */
export type ShapeChoice =
  | { readonly kind: "fixed"; readonly shape: number }
  | { readonly kind: "prior"; readonly low: number; readonly high: number; readonly sure: number }
  | { readonly kind: "pooled" };

/** A law of life that a reader may choose. */
export type LawChoice = LawName;

/** A number with its bounds, two-sided unless `sides` says otherwise. `value` null: not reached or not estimable, `why` says which. A null bound is unbounded. */
export interface Estimate {
  readonly value: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly confidence: number;
  readonly method:
    | "likelihood ratio"
    | "exact Poisson"
    | "log-log"
    | "Wald"
    | "success run"
    | "shapes 0.5 to 4"
    | "parameter draws"
    | "exact binomial"
    | "exact conditional"
    | "exact conditional, widened by tool"
    | "bootstrap by serial"
    | "fixed shape"
    | "prior on shape"
    | "pooled shape"
    | "none";
  /** "cost per 1,000 h": in the currency of the result, or in planned redresses. */
  readonly unit: "h" | "per 1,000 h" | "cost per 1,000 h" | "fraction" | "kJ/mol" | "none";
  /** "lower": `lower` is a one-sided bound at `confidence` and an upper one was not asked for. Left out: two-sided. */
  readonly sides?: "lower";
  readonly why?:
    | "not reached"
    | "no failures"
    | "no maximum"
    | "no hours"
    | "before 0 h"
    | "no interval pays"
    | "no interval shown to pay"
    | "nothing stops a job"
    | "found failed";
}

export interface Notice {
  readonly code:
    | LivesNotice["code"]
    | EstimationNotice["code"]
    | "few-failures"
    | "no-failures"
    | "no-maximum"
    | "not-converged"
    | "extrapolated"
    | "linked-modes"
    | "law-of-linked-modes"
    | "law-without-maximum"
    | "law-before-zero"
    | "curve-by-wald"
    | "bounds-not-as-asked"
    | "shape-taken"
    | "shape-not-taken"
    | "informative-looks"
    | "sound-by-scope"
    | "ranged-ages"
    | "missing-hours-matter"
    | "tools-differ"
    | "bounds-fall-short"
    | "sizes-pooled"
    | "left-truncated"
    | "excluded-lives"
    | "poor-fit"
    | "many-comparisons"
    | "practice-not-written"
    | "linked-comparison"
    | "restoration-statement"
    | "costs-assumed"
    | "costs-left-out"
    | "constant-rate"
    | "interval-beyond-experience"
    | "heat-not-written"
    | "heat-beyond-seen"
    | "invented-data";
  readonly facts: Readonly<Record<string, string | number | null>>;
  readonly rows?: readonly RowRef[];
}

export interface Provenance {
  readonly dataHash: string;
  readonly studyHash: string;
  readonly engineVersion: string;
  readonly cutoff: string;
}

export interface LifeCounts {
  readonly lives: number;
  readonly serials: number;
  /** Failures of any kind: exact + interval + left. */
  readonly failures: number;
  readonly exact: number;
  readonly interval: number;
  readonly left: number;
  readonly right: number;
  readonly leftTruncated: number;
  readonly noInformation: number;
  readonly excluded: number;
  /** Looks that closed a life, and those among them that followed a failure of the same item. */
  readonly looks: number;
  readonly informativeLooks: number;
  readonly soundByScope: number;
}

/** The failure definition as it is printed with every result. */
export interface FailureDefinition {
  readonly modes: readonly {
    readonly item: string;
    readonly mode: string;
    readonly threshold: number;
    readonly announces: "evident" | "hidden";
    readonly restoredBy: "renewed" | "made up";
    readonly leadsTo: string | null;
  }[];
  /** What the shop answered for what its sheets do not say. */
  readonly statements: readonly string[];
  readonly clock: "operating hours";
  readonly hoursKind: string | null;
}

/** A line on a grid of ages, with its bounds. All arrays have the same length, ages ascending from 0. */
export interface CurveOnGrid {
  readonly age: readonly number[];
  readonly value: readonly number[];
  readonly lower: readonly number[];
  readonly upper: readonly number[];
}

/** A step of a nonparametric survival curve. Between `from` and `to` of a Turnbull interval the curve is undetermined. */
export interface SurvivalStep {
  readonly from: number;
  readonly to: number;
  readonly survival: number;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly atRisk: number | null;
  readonly failures: number | null;
}

/** A failure on the probability plot: at one age, or between two looks (`low` 0: found failed at the first look). */
export interface PlotPoint {
  readonly low: number;
  readonly high: number;
  readonly failedFraction: number;
  readonly lifeIds: readonly string[];
}

export interface LifeHistory {
  readonly lifeId: string;
  readonly serial: string;
  readonly since: string;
  readonly sinceOn: string;
  readonly kind: LifeKind;
  readonly lower: Age;
  readonly upper: Age | null;
  readonly entry: number;
  readonly informative: boolean;
  readonly looks: readonly LookMark[];
  readonly runs: readonly RunMark[];
  /** Where the mode is a defect fitted jointly with the failure it leads to: that failure, where it came on this item. */
  readonly ledTo?: {
    readonly mode: string;
    readonly kind: LifeKind;
    readonly lower: Age;
    readonly upper: Age | null;
  };
}

/** How the bounds of a life were had, and why so. */
export interface BoundsUsed {
  readonly method: BoundsChoice | "shape taken";
  readonly why: "usual" | "asked for" | "tools differ";
  /** p-value of "all serials last alike"; null where not tested. */
  readonly serialsAlike: number | null;
  /** Of the resampling by serial. */
  readonly bySerial: {
    readonly serials: number;
    readonly resamples: number;
    readonly withoutMaximum: number;
    /** What the likelihood ratio, which takes lives as separate, gives for B10. */
    readonly b10IfSeparate: Estimate;
  } | null;
}

/** The shape that was taken, with what was believed before and after these lives. */
export interface ShapeTaken {
  readonly kind: ShapeChoice["kind"];
  readonly low: number;
  readonly high: number;
  /** Probability that the shape lies between `low` and `high`; 1 for a fixed one. */
  readonly sure: number;
  /** Densities per unit of shape on one grid; null for a fixed shape. */
  readonly curves: {
    readonly shape: readonly number[];
    readonly prior: readonly number[];
    readonly posterior: readonly number[];
  } | null;
  /** Modes and sizes whose shapes were pooled, and their failures; null where none were. */
  readonly pooledFrom: { readonly groups: number; readonly failures: number } | null;
}

/** One law fitted to the same lives. `worseBy` is its AICc less the best one's: under 2 the lives do not tell them apart. */
export interface LawComparison {
  readonly law: LawChoice;
  readonly logLikelihood: number;
  readonly aicc: number;
  readonly worseBy: number;
  readonly b10: number;
  readonly median: number;
  readonly reliability: number;
}

/** A defect and the failure it leads to, fitted jointly. */
export interface LinkedModes {
  readonly defect: string;
  readonly failure: string;
  readonly histories: number;
  readonly defects: number;
  readonly failures: number;
  /** Failures found on items without the defect: taken as brought by something else. */
  readonly withoutDefect: number;
  /** From the defect to the failure. Null where the lives do not settle it. */
  readonly delay: {
    readonly shape: Estimate;
    readonly scale: Estimate;
    readonly tenth: Estimate;
    readonly median: Estimate;
  } | null;
}

/** "How long does this item last, this mode?" */
export interface ItemLifeResult {
  readonly kind: "item life";
  readonly definition: StudyDefinition;
  readonly provenance: Provenance;
  readonly scope: Scope;
  readonly item: string;
  readonly mode: string;
  readonly toolTypes: readonly string[];
  readonly sizesIn: readonly number[];
  readonly failureDefinition: FailureDefinition;
  readonly counts: LifeCounts;
  readonly excluded: readonly { readonly reason: string; readonly count: number }[];
  readonly noInformation: readonly { readonly reason: string; readonly count: number }[];
  /** Null where the lives have no maximum of the likelihood (no failures, or failures that cannot tell the shape). */
  readonly fit: {
    readonly distribution: LawChoice;
    /** Of the lognormal and generalised gamma laws the deviation of log life, of normal and extreme value in hours; exponential: 1. */
    readonly shape: Estimate;
    /** Of the lognormal law the median; of the others that have a location, that (generalised gamma: in hours). */
    readonly scale: Estimate;
    /** Of the generalised gamma law Prentice's Q, of the three-parameter Weibull law the age before which nothing fails. */
    readonly third?: Estimate;
    readonly logLikelihood: number;
    readonly iterations: number;
    readonly largestScore: number;
  } | null;
  readonly readings: {
    readonly b10: Estimate;
    readonly median: Estimate;
    readonly mean: Estimate;
    readonly statedAge: number;
    readonly reliability: Estimate;
  };
  readonly bounds: BoundsUsed;
  /** Null where the shape comes from these lives alone. */
  readonly shapeTaken: ShapeTaken | null;
  /** Fitted survival; with one-sided bounds `upper` is the line itself. Null without a fit. */
  readonly survival: CurveOnGrid | null;
  /** Longest age at which a life was followed; the fitted line beyond it is beyond experience. */
  readonly longestAge: number;
  readonly nonparametric: {
    /** None for a mode fitted jointly with the one it leads to: its looks happened because of the other's failure. */
    readonly method: "product-limit" | "Turnbull" | "none";
    readonly boundsMethod: string | null;
    readonly steps: readonly SurvivalStep[];
    /** A band that holds the whole curve between two ages at once, one pair a step; null where the method has none. */
    readonly band: {
      readonly confidence: number;
      readonly method: "equal precision, log-log";
      readonly fromAge: number;
      readonly toAge: number;
      readonly lower: readonly (number | null)[];
      readonly upper: readonly (number | null)[];
    } | null;
  };
  readonly plotPoints: readonly PlotPoint[];
  /** One entry a life, by end of known life; the first 2,000. */
  readonly histories: readonly LifeHistory[];
  /** The same lives under other laws, best first by AICc; empty for a mode fitted jointly, or without a fit. */
  readonly laws: readonly LawComparison[];
  /** Where this mode leads to another, or another to it: both fitted together as sound, defective, failed. */
  readonly linked: LinkedModes | null;
  /** The same fit under the other treatments of missing hours, where they move B10 or median by more than 5 %. */
  readonly sensitivity: readonly {
    readonly missingHours: StudyDefinition["missingHours"];
    readonly b10: number | null;
    readonly median: number | null;
  }[];
  readonly notices: readonly Notice[];
}

export interface ModeRate {
  readonly toolType: string;
  readonly item: string;
  readonly itemKind: Row<"tool_items">["kind"];
  readonly position: number | null;
  readonly mode: string;
  readonly announces: "evident" | "hidden";
  readonly failures: number;
  /** Hours under observation for this mode: inspected hours where hidden, hours run where evident. */
  readonly hours: number;
  readonly looks: number;
  /** Failures per 1,000 hours with exact bounds. */
  readonly rate: Estimate;
  /** Rate shrunk towards the mean of its kind (gamma prior by moments); for shading only. */
  readonly shrunkenRate: number;
  /** Fewer than 5 failures: hatched, never ranked by colour alone. */
  readonly few: boolean;
  readonly broughtBack: number;
  readonly lifeIds: readonly string[];
}

/** "What fails, and where in the tool?" */
export interface WhatFailsResult {
  readonly kind: "what fails";
  readonly definition: StudyDefinition;
  readonly provenance: Provenance;
  readonly scope: Scope;
  readonly failureDefinition: FailureDefinition;
  readonly tools: number;
  readonly runs: number;
  /** Runs pulled because of a tool failure, and per 1,000 h with exact bounds. */
  readonly toolFailures: number;
  readonly toolFailureRate: Estimate;
  readonly hours: HoursAccount;
  /** One row a mode of an item, highest rate first. */
  readonly modes: readonly ModeRate[];
  /** Half-years; the same modes as `modes`, failures and hours observed in that half-year. */
  readonly periods: readonly {
    readonly from: string;
    readonly to: string;
    readonly label: string;
    readonly failures: number;
    readonly hours: number;
    readonly rate: Estimate;
    readonly byMode: readonly {
      readonly item: string;
      readonly mode: string;
      readonly failures: number;
      readonly hours: number;
      readonly rate: Estimate;
    }[];
  }[];
  /** The item list of the tool types in scope, for the drawing. */
  readonly drawing: readonly {
    readonly toolType: string;
    readonly items: readonly {
      readonly item: string;
      readonly kind: Row<"tool_items">["kind"];
      readonly position: number | null;
      readonly failures: number;
      readonly shrunkenRate: number | null;
      readonly few: boolean;
    }[];
  }[];
  readonly toolEvents: readonly ToolEvent[];
  readonly buildRejects: number;
  readonly notices: readonly Notice[];
}

/** One line of a serial's story. */
export interface HistoryEvent {
  readonly on: string;
  readonly order: number;
  readonly row: RowRef;
  /** Hours of the tool in these records when it happened. */
  readonly toolHours: Age;
  readonly event:
    | {
        readonly kind: "redress";
        readonly redress: Row<"redresses">;
        readonly joints: readonly Row<"joints">[];
        readonly fitted: readonly Row<"fitted_items">[];
      }
    | { readonly kind: "run"; readonly run: Row<"runs">; readonly counted: boolean }
    | { readonly kind: "teardown"; readonly teardown: Row<"teardowns">; readonly findings: readonly Row<"findings">[] };
}

/** "What is the story of this serial on my bench?" */
export interface ToolHistoryResult {
  readonly kind: "tool history";
  readonly provenance: Provenance;
  readonly tool: Row<"tools">;
  readonly items: readonly Row<"tool_items">[];
  readonly events: readonly HistoryEvent[];
  readonly lives: readonly Life[];
  /** Present age of each item and mode with what it is counted from. */
  readonly ages: readonly {
    readonly item: string;
    readonly mode: string;
    readonly since: string;
    readonly sinceOn: string;
    readonly age: Age;
    readonly state: "running" | "failed" | "not known";
    readonly restoredBy: "renewed" | "made up";
  }[];
  readonly runs: number;
  readonly hours: Age;
  readonly failures: number;
  readonly toolEvents: readonly ToolEvent[];
  readonly notices: readonly Notice[];
}

export type StudyResult =
  | ItemLifeResult
  | WhatFailsResult
  | ToolHistoryResult
  | BuildPracticeResult
  | RedressIntervalResult
  | FleetResult;

/** What there is to ask about: fills the scope bar. */
export interface ScopeChoices {
  readonly toolTypes: readonly {
    readonly toolType: string;
    readonly sizesIn: readonly number[];
    readonly items: readonly {
      readonly item: string;
      readonly kind: Row<"tool_items">["kind"];
      readonly position: number | null;
      readonly modes: readonly string[];
    }[];
  }[];
  readonly customers: readonly string[];
  readonly firstDate: string | null;
  readonly lastDate: string | null;
  readonly serials: readonly {
    readonly serial: string;
    readonly toolType: string;
    readonly sizeIn: number | null;
    readonly status: string | null;
    readonly runs: number;
    readonly failures: number;
  }[];
}
