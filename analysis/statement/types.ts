/** The customer statement as plain data: what was asked, what may be claimed, and what each number rests on. */
import type { Row } from "../records/descriptor.ts";
import type { DatedChange } from "../study/ageBands.ts";
import type { RateComparison } from "../study/compareRates.ts";
import type {
  Estimate,
  FailureDefinition,
  ItemLifeResult,
  LifeCounts,
  Provenance,
  Scope,
  StudyDefinition,
  WhatFailsResult,
} from "../study/types.ts";

export type HoursKind = NonNullable<StudyDefinition["hoursKind"]>;

/** How the reader writes numbers: "1,234.5", or "1 234,5". */
export type DecimalMark = "point" | "comma";

/** Figures that customers ask for and that mislead unless the records carry them. */
export type AskedFigure = "mean time between failures" | "failures a month";

export interface StatementAction {
  readonly what: string;
  readonly item: string | null;
  readonly mode: string | null;
  readonly state: "done" | "open";
  /** Done on, or due on. */
  readonly on: string | null;
}

/** A change whose effect is asked about. */
export interface StatementChange extends DatedChange {
  readonly what: string;
}

/** A statement and its settings: immutable; with the same records it gives the same content. */
export interface StatementDefinition {
  readonly kind: "periodic" | "incident" | "before and after";
  readonly scope: Scope;
  readonly audience: "engineer" | "manager";
  readonly units: "metric" | "oilfield";
  /** A point where left out, as in statements stored before there was a choice. */
  readonly decimalMark?: DecimalMark;
  /** The customer's usual run, in hours; null takes the median run in scope. */
  readonly runHours: number | null;
  readonly cutoff: string | null;
  readonly thresholds: Readonly<Record<string, number>>;
  readonly hoursKind: HoursKind | null;
  /** What the customer calls a failure and which hours they count, where that differs from the shop's. */
  readonly customerDefinition: {
    readonly thresholds: Readonly<Record<string, number>>;
    readonly hoursKind: HoursKind | null;
  } | null;
  /** Two-sided. */
  readonly confidence: number;
  readonly asked: readonly AskedFigure[];
  readonly change: StatementChange | null;
  /** The run that a single incident is about. */
  readonly incidentRun: string | null;
  readonly actions: readonly StatementAction[];
  readonly masked: boolean;
}

/** What a name is called instead: by kind of name, then name. */
export type MaskedKind = "tool" | "well" | "rig" | "crew" | "technician" | "lot" | "customer" | "file" | "record";
export type Aliases = { readonly [K in MaskedKind]?: Readonly<Record<string, string>> };

/** Counts whose parts add up to their whole. */
export interface Account {
  readonly whole: number;
  readonly parts: readonly { readonly what: string; readonly count: number }[];
}

export interface StatementExclusions {
  /** Every run row of the scope: counted, or why not. */
  readonly runs: Account;
  /** Every restoration of every mode in scope: a life, not looked at yet, or excluded with its reason. */
  readonly lives: Account;
  /** Counted runs whose hours nobody wrote down. */
  readonly hoursNotWritten: number;
  /** Counted runs whose reason for coming in nobody wrote down. */
  readonly reasonNotWritten: number;
}

/** One mode of one item: how often, how long, and whether a mean time may be said. */
export interface StatementMode {
  readonly toolType: string;
  readonly item: string;
  readonly mode: string;
  readonly announces: "evident" | "hidden";
  readonly failures: number;
  readonly hours: number;
  readonly broughtBack: number;
  readonly rate: Estimate;
  readonly causes: {
    readonly notDetermined: number;
    readonly known: readonly { readonly cause: string; readonly count: number }[];
    /** Put down to another finding of the same teardown, and so not a failure of its own. */
    readonly consequences: number;
  };
  readonly life: StatementLife | null;
  readonly meanTime: MeanTimeGate;
}

/** Survival at the run length, from the lives. */
export interface StatementLife {
  readonly counts: Pick<LifeCounts, "lives" | "failures" | "right" | "noInformation" | "excluded">;
  readonly age: number;
  /** Null where no life was followed to `age`: nothing is claimed beyond experience. */
  readonly survival: Estimate | null;
  /** What the fitted line would say there; only for the guard. */
  readonly beyondExperience: number | null;
  readonly longestAge: number;
  readonly b10: Estimate;
  readonly median: Estimate;
  /** Mean age of the failed ones alone: what dropping the survivors would give. Only for the guard. */
  readonly failedAlone: number | null;
  readonly result: string;
}

/** Whether "mean time between failures" may be said of one mode, and why not. */
export interface MeanTimeGate {
  readonly mayBeSaid: boolean;
  readonly why: readonly ("fewer than 10 failures" | "shape not near 1" | "trend")[];
  readonly hours: number;
  readonly failures: number;
  /** Hours a failure, with exact bounds; null without failures. */
  readonly meanTime: Estimate | null;
  readonly shape: { readonly value: number; readonly lower: number; readonly upper: number } | null;
  readonly laplace: number | null;
  readonly handbook: number | null;
  /** Share still good at an age equal to the mean time. */
  readonly survivalAtMeanTime: number | null;
}

export interface FailureFree {
  readonly runs: number;
  readonly free: number;
  /** Share of runs that the tool did not end, exact by effective number of runs. */
  readonly share: Estimate;
  /** How many times more the number of failures varies between serials than chance alone would make it; at least 1. */
  readonly designEffect: number;
  readonly bySerial: readonly {
    readonly serial: string;
    readonly runs: number;
    readonly free: number;
    readonly hours: number;
    readonly share: Estimate;
  }[];
}

export interface StatementTrend {
  readonly failures: number;
  readonly hours: number;
  readonly systems: number;
  readonly laplace: { readonly statistic: number; readonly pValue: number } | null;
  readonly handbook: { readonly chiSquare: number; readonly degreesOfFreedom: number; readonly pValue: number } | null;
  readonly shape: { readonly value: number; readonly lower: number; readonly upper: number } | null;
  readonly direction: "none shown" | "improving" | "worsening" | "too few failures";
}

/** One comparison across a change. */
export interface Comparison extends RateComparison {
  /** Null where there is one tool type, and for runs that the tool ended, as are item and mode. */
  readonly toolType: string | null;
  readonly item: string | null;
  readonly mode: string | null;
  readonly ageStandardised: boolean;
}

export interface BeforeAfter {
  readonly change: StatementChange;
  readonly comparisons: readonly Comparison[];
  readonly bands: readonly number[];
}

export interface Incident {
  readonly run: string;
  readonly serial: string;
  /** Not in statements stored by earlier versions. */
  readonly toolType?: string | null;
  readonly sizeIn?: number | null;
  readonly on: string;
  readonly hours: number | null;
  readonly pulledBecause: Row<"runs">["pulled_because"];
  readonly well: string | null;
  readonly findings: readonly {
    readonly item: string;
    readonly condition: string;
    readonly severity: number | null;
    readonly cause: string | null;
    readonly breakoutTorque_Nm: number | null;
    /** Hours since the item was restored for that mode; null where not known. */
    readonly age: number | null;
    /** Failures of that mode in scope, this one included, per 1,000 h. */
    readonly rate: Estimate | null;
    readonly failures: number;
    readonly hours: number;
    /** Share still good at that age. */
    readonly survival: Estimate | null;
    readonly longestAge: number | null;
    readonly result: string | null;
  }[];
  readonly tornDownOn: string | null;
}

export interface Spread {
  readonly known: number;
  readonly median: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/** What the guard reads and what is printed nowhere else. */
export interface GuardEvidence {
  /** Kinds of hours of the counted runs. */
  readonly hoursKinds: readonly {
    readonly kind: HoursKind | "not written";
    readonly runs: number;
    readonly hours: number;
  }[];
  readonly runsLookedAt: { readonly runs: number; readonly hours: number; readonly failures: number };
  readonly survivors: number;
  readonly failedLives: number;
  readonly foundAtPlanned: number;
  readonly nothingFound: number;
  readonly strata: readonly {
    readonly by: "tool type" | "size" | "mud" | "customer";
    readonly pValue: number;
    readonly groups: readonly {
      readonly name: string;
      readonly failures: number;
      readonly hours: number;
      readonly rate: Estimate;
    }[];
  }[];
  /** All history up to the end of the period, where the period starts later. */
  readonly allHistory: {
    readonly failures: number;
    readonly hours: number;
    readonly rate: Estimate;
    readonly from: string;
  } | null;
  /** Failures of the change between its day and the first day counted as after. */
  readonly skipped: {
    readonly failures: number;
    readonly hours: number;
    readonly ratioWith: number | null;
    readonly ratioWithout: number | null;
  } | null;
  /** The stretch before the change against earlier stretches of the same length. */
  readonly earlier: {
    readonly stretches: number;
    readonly worst: boolean;
    readonly rate: Estimate;
    readonly ratioToAll: number | null;
    readonly ratioToChosen: number | null;
  } | null;
  readonly months: number;
  readonly definitionChanged: { readonly before: number; readonly now: number } | null;
}

/** Everything a statement says, before it is worded. No name in it is unmasked where the definition says masked. */
export interface StatementResult {
  readonly kind: "statement";
  readonly definition: StatementDefinition;
  readonly provenance: Provenance;
  /** Content hash of everything else here. */
  readonly contentHash: string;
  readonly sample: boolean;
  readonly failureDefinition: FailureDefinition;
  readonly population: {
    readonly tools: number;
    readonly runs: number;
    readonly hours: number;
    readonly from: string | null;
    readonly to: string | null;
    readonly toolTypes: readonly string[];
    readonly sizesIn: readonly number[];
    readonly customers: number;
    readonly wells: number;
    readonly hoursKinds: readonly string[];
  };
  readonly conditions: {
    readonly runHours: Spread;
    readonly temperature_C: Spread;
    readonly depth_m: Spread;
    readonly pressure_MPa: Spread;
  };
  readonly runHours: number;
  readonly toolFailures: number;
  readonly toolFailureRate: Estimate;
  readonly failureFree: FailureFree;
  readonly modes: readonly StatementMode[];
  readonly exclusions: StatementExclusions;
  readonly trend: StatementTrend;
  readonly periods: WhatFailsResult["periods"];
  readonly customerView: {
    readonly thresholds: Readonly<Record<string, number>>;
    readonly hoursKind: HoursKind | null;
    readonly runs: number;
    readonly hours: number;
    readonly failures: number;
    readonly rate: Estimate;
    readonly shopFailures: number;
    readonly shopRate: Estimate;
    readonly modes: readonly {
      readonly toolType: string;
      readonly item: string;
      readonly mode: string;
      readonly shop: number;
      readonly customer: number;
    }[];
    readonly result: string;
  } | null;
  readonly beforeAfter: BeforeAfter | null;
  readonly incident: Incident | null;
  readonly actions: readonly StatementAction[];
  readonly evidence: GuardEvidence;
  /** What the pictures draw: results of the same studies, without lives and rows. */
  readonly pictures: {
    readonly whatFails: WhatFailsResult;
    readonly lives: readonly ItemLifeResult[];
  };
}
