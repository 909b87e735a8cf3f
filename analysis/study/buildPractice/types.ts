/** "What in the build makes the difference?": the result as plain JSON. */
import type { LifeKind } from "../../lives/types.ts";
import type { PracticeId } from "../../practice/explain/practices.ts";
import type { LifeMultiplier } from "../../practice/screen/lifeMultiplier.ts";
import type { Verdict } from "../../practice/screen/verdict.ts";
import type { FailureDefinition, Notice, Provenance, Scope, StudyDefinition, SurvivalStep } from "../types.ts";

/** A comparison by name. `level` is one name held against all others; null for a number. */
export interface PracticeChoice {
  readonly practice: PracticeId;
  readonly level: string | null;
  /** An item, or a kind of item, as the failure mode is listed. */
  readonly item: string;
  readonly mode: string;
}

/** Lives and failures of one side. */
export interface Side {
  readonly lives: number;
  readonly failures: number;
}

/** One practice against one mode. */
export interface PracticeComparison extends PracticeChoice {
  /** Items whose lives were taken together. */
  readonly items: readonly string[];
  readonly title: string;
  readonly unit: string | null;
  /** For a number: the two values compared. Null for a name. */
  readonly at: number | null;
  readonly against: number | null;
  /** The failure that this mode leads to, where both were fitted together. */
  readonly leadsTo: string | null;
  readonly lives: number;
  readonly failures: number;
  readonly serials: number;
  /** Name: the lives with it and the others. Number: those nearer to `at` and the others. */
  readonly with: Side;
  readonly without: Side;
  /** Lives left out because the practice is not written as it should be. */
  readonly notWritten: Side;
  readonly writtenAsText: Side;
  readonly inDoubt: Side;
  /** Null where the lives have no maximum of the likelihood. */
  readonly unadjusted: LifeMultiplier | null;
  readonly adjusted: LifeMultiplier | null;
  /** Adjusted p-value over the whole screen (Benjamini-Hochberg); null where it was not tested. */
  readonly screenedPValue: number | null;
  /** For a claim: the adjusted multiplier with bounds that hold though it was selected. */
  readonly selected: LifeMultiplier | null;
  readonly verdict: Verdict;
  /** Share of the practice's spread that crew, well, season and the other practices leave unexplained. */
  readonly shareLeft: number;
  /** What it goes along with, the closest first: share of its spread that each explains on its own. */
  readonly goesAlongWith: readonly { readonly what: string; readonly share: number }[];
}

/** A comparison under another model, or without some of its lives. */
export interface OtherAnswer {
  readonly what: string;
  readonly lives: number;
  readonly failures: number;
  readonly multiplier: LifeMultiplier | null;
}

/** One life in the picture of life against a number. */
export interface PracticeLife {
  readonly lifeId: string;
  readonly serial: string;
  readonly item: string;
  readonly kind: LifeKind;
  /** Null: not written as a number. */
  readonly at: number | null;
  readonly name: string | null;
  readonly lower: number;
  readonly upper: number | null;
}

export interface PracticeGroup {
  readonly name: string;
  readonly lives: number;
  readonly failures: number;
  readonly serials: number;
  /** Half-open ranges of a number; null for a name or for lives without a number. */
  readonly from: number | null;
  readonly to: number | null;
  readonly isWritten: boolean;
  readonly steps: readonly SurvivalStep[];
  /** Age up to which ten lives or more were followed, hours; beyond it the steps are chance. 0 where there are fewer. */
  readonly followedTo: number;
  readonly lifeIds: readonly string[];
}

/** Who did what where: lives, failures and the practice, by one thing that differed. */
export interface WhoDidWhat {
  readonly what: string;
  readonly rows: readonly {
    readonly name: string;
    readonly lives: number;
    readonly failures: number;
    /** Mean of a number, share of lives with a name; null where nobody wrote it. */
    readonly practice: number | null;
  }[];
}

/** What a trial is to find: a multiplier of life other than 1, with a chance. */
export interface SettlingGoal {
  readonly multiplier: number;
  readonly power: number;
  /** Weibull shape of the mode, where known from elsewhere; null takes it from the records. */
  readonly shape: number | null;
}

export interface Needed {
  readonly failures: number;
  readonly runs: number;
}

/** What it takes to know, by simulation on the lives there are. */
export interface Settling {
  readonly multiplier: number;
  readonly power: number;
  /** Weibull shape that the simulated lives have, and whether it was stated. */
  readonly shape: number;
  readonly isShapeStated: boolean;
  /** P-value at which a comparison stands out in this screen. */
  readonly level: number;
  /** Chance to find it in as many lives as there are now. */
  readonly powerNow: number;
  /** Going on as now, in all and beyond what there is; null where no number of runs would do. */
  readonly asNow: (Needed & { readonly more: number; readonly moreRuns: number }) | null;
  /** Where serials alternate between the two. */
  readonly alternating: Needed | null;
}

/** What a serial begins a trial with. */
export interface TrialTurn {
  readonly serial: string;
  readonly toolType: string;
  readonly sizeIn: number | null;
  /** At its next redress; the other one at the redress after, and so on. */
  readonly first: "at" | "against";
}

/** The comparison looked at closely. */
export interface PracticeDetail {
  readonly choice: PracticeChoice;
  /** Multiplier of life over the number against `against`, bent where the lives bend it. Null for a name. */
  readonly curve: {
    readonly at: readonly number[];
    readonly value: readonly number[];
    readonly lower: readonly number[];
    readonly upper: readonly number[];
    readonly confidence: number;
    /** That a straight line would do. */
    readonly straightPValue: number;
  } | null;
  readonly histories: readonly PracticeLife[];
  readonly groups: readonly PracticeGroup[];
  readonly whoDidWhat: readonly WhoDidWhat[];
  readonly otherModels: readonly OtherAnswer[];
  /** Models and omissions alike stay on the same side of 1. */
  readonly modelsAgree: boolean;
  /** Without each tool, crew, customer: only the two that move the answer most, by kind. */
  readonly withoutOne: readonly OtherAnswer[];
  /** With what is missing filled in from the rest, ten times; null where nothing is missing, or for a name. */
  readonly imputed: LifeMultiplier | null;
  /** Only where a goal was asked for; null too where the lives have no law. */
  readonly settling: Settling | null;
  /** Serials in service, alternating, so that nothing goes along with the practice. */
  readonly plan: readonly TrialTurn[];
}

/** A lot whose failures are more than chance deals out. */
export interface LotOnWatch {
  readonly item: string;
  readonly lot: string;
  readonly mode: string;
  readonly lives: number;
  readonly failures: number;
  readonly expected: number;
  readonly pValue: number;
  readonly screenedPValue: number;
  readonly isOnWatch: boolean;
  readonly lifeIds: readonly string[];
  /** Serials that still carry it. */
  readonly carriedBy: readonly { readonly serial: string; readonly redress: string; readonly status: string | null }[];
}

/** How a joint's torque is written down. */
/** Implied make-up stress in the smaller section, MPa. */
export interface JointStress {
  /** At the design torque with the friction of the published tables. */
  readonly atDesign: number | null;
  /** Tenth, middle and ninetieth hundredth of the joints with torque and compound written. */
  readonly low: number;
  readonly middle: number;
  readonly high: number;
  readonly joints: number;
}

export interface JointTorques {
  readonly toolType: string;
  readonly item: string;
  readonly designTorqueNm: number | null;
  readonly madeUp: number;
  readonly withNumber: number;
  readonly asText: number;
  readonly inDoubt: number;
  readonly notWritten: number;
  readonly below90: number;
  readonly above110: number;
  readonly medianRatio: number | null;
  readonly medianCorrectedRatio: number | null;
  /** Null where the geometry of the connection is not in the item list. */
  readonly stress: JointStress | null;
}

export interface BuildPracticeResult {
  readonly kind: "build practice";
  readonly definition: StudyDefinition;
  readonly provenance: Provenance;
  readonly scope: Scope;
  readonly failureDefinition: FailureDefinition;
  /** Claims first, by adjusted p-value; then what cannot be told; then the rest. */
  readonly comparisons: readonly PracticeComparison[];
  readonly tested: number;
  readonly claims: number;
  /** Share of claims that may be false on average. */
  readonly falseDiscoveryRate: number;
  readonly lives: number;
  readonly failures: number;
  readonly serials: number;
  readonly detail: PracticeDetail | null;
  readonly lots: readonly LotOnWatch[];
  readonly lotsTested: number;
  readonly joints: readonly JointTorques[];
  readonly notices: readonly Notice[];
}
