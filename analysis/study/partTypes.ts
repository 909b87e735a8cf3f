/** Parts of the answer about an item's life that take long or few ask for: computed on request, never with the first answer. */
import type { Estimate, Notice, Provenance } from "./types.ts";

/** What lives can be told apart by. */
export type GroupBy = "size" | "tool type" | "elastomer" | "backup ring" | "customer" | "period";

export type LifePartQuestion =
  | { readonly kind: "checks" }
  | { readonly kind: "looks" }
  /** Null: the two groups with most failures. */
  | { readonly kind: "groups"; readonly by: GroupBy; readonly first: string | null; readonly second: string | null };

interface PartBase {
  readonly provenance: Provenance;
  readonly item: string;
  readonly mode: string;
  /** Why nothing can be checked: fitted together with the mode it leads to, or the lives settle no curve. */
  readonly why: "linked modes" | "no fit" | null;
  readonly notices: readonly Notice[];
}

/** A simulated test: p = (1 + simulated at least as large) / (1 + simulations used). */
export interface SimulatedTest {
  readonly pValue: number;
  readonly simulations: number;
}

/** One side of a comparison, by its own Weibull law. */
export interface ComparedGroup {
  readonly name: string;
  readonly lives: number;
  readonly failures: number;
  /** Null where the group settles no law. */
  readonly shape: number | null;
  readonly b10: number | null;
}

/** A ratio of lives with bounds; null where one group settles no law. */
export type RatioEstimate = Estimate | null;

/** "Does the curve fit?" */
export interface FitChecks extends PartBase {
  readonly kind: "checks";
  /** Of the law that is read: distance between lives and law against simulated lives, followed in the same way. */
  readonly goodness: (SimulatedTest & { readonly monteCarloError: number }) | null;
  /** Null where lives enter late, or two patterns could not be fitted. */
  readonly twoPatterns:
    | (SimulatedTest & {
        readonly earlyFraction: number;
        readonly early: { readonly shape: number; readonly scale: number };
        readonly main: { readonly shape: number; readonly scale: number };
      })
    | null;
  readonly twoPatternsWhy: "late entry" | "no maximum" | null;
  /** Lives restored before and from the date that halves them. */
  readonly drift: {
    readonly splitOn: string;
    readonly groups: readonly [ComparedGroup, ComparedGroup];
    /** Of one law for both: null where one settles none. */
    readonly pValue: number | null;
    /** B10 of the later over the earlier. */
    readonly ratio: RatioEstimate;
  } | null;
  /** First, second, ... restoration of the item on its serial. */
  readonly renewal: {
    readonly strata: readonly {
      readonly from: number;
      readonly to: number | null;
      readonly lives: number;
      readonly failures: number;
    }[];
    readonly pValue: number | null;
    /** Life after the tenth restoration over life after the first. */
    readonly tenthOverFirst: RatioEstimate;
  } | null;
  /** The failures that move B10 most, strongest first. */
  readonly influence: readonly {
    readonly lifeId: string;
    readonly serial: string;
    readonly sinceOn: string;
    readonly b10Without: number;
    /** B10 without it over B10 with it. */
    readonly b10Ratio: number;
  }[];
}

export interface SensitivityRow {
  /** Kendall's tau, or the probability that a look sees a defect that is there. */
  readonly setting: number;
  readonly b10: number | null;
  readonly median: number | null;
}

/** What if looks were no accident, or missed what was there? */
export interface LookSensitivity extends PartBase {
  readonly kind: "looks";
  /** Share of last looks that followed another failure of the same item. */
  readonly share: number;
  /** Empty where a tenth or fewer of the last looks did. */
  readonly dependence: readonly SensitivityRow[];
  /** Empty for a mode that announces itself. */
  readonly detection: readonly SensitivityRow[];
}

/** "Do these two last alike?" */
export interface GroupsCompared extends PartBase {
  readonly kind: "groups";
  readonly by: GroupBy;
  /** Every group, most failures first. */
  readonly groups: readonly { readonly name: string; readonly lives: number; readonly failures: number }[];
  /** The two that are compared; null where there are fewer than two. */
  readonly compared: {
    readonly first: ComparedGroup;
    readonly second: ComparedGroup;
    /** p-values; null where a group settles no law. */
    readonly sameShape: number | null;
    readonly sameLife: number | null;
    /** B10 of the first over the second, each with its own shape. */
    readonly ratio: RatioEstimate;
    /** All shapes and scales that agree with each group; null where it settles no law. */
    readonly regions: readonly {
      readonly name: string;
      readonly shape: number;
      readonly scale: number;
      readonly outline: readonly { readonly shape: number; readonly scale: number }[];
      /** A point of the outline lies beyond all reason: the region is open. */
      readonly isOpen: boolean;
    }[];
    readonly confidence: number;
  } | null;
}

export type LifePart = FitChecks | LookSensitivity | GroupsCompared;
