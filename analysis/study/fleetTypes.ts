/** "Which tool may go out?" Plain JSON; advice, never a clearance. */
import type { Age } from "../lives/types.ts";
import type { HeatVerdict, LineWithBounds } from "./decisionTypes.ts";
import type { Estimate, FailureDefinition, Notice, Provenance, Scope, StudyDefinition } from "./types.ts";

export type FleetReading = "inside its limit" | "look first" | "redress due" | "not enough known";

/** Why a tool reads as it does: a code with facts, worded by `analysis/wording`. */
export interface FleetReason {
  readonly code:
    | "found-failed"
    | "interval-reached"
    | "no-hours-left"
    | "records-late"
    | "age-unknown"
    | "nothing-known"
    | "chance-too-high"
    | "interval-in-run"
    | "inside";
  readonly facts: Readonly<Record<string, string | number | null>>;
}

export interface FleetTool {
  readonly serial: string;
  readonly toolType: string;
  readonly sizeIn: number | null;
  readonly status: string | null;
  readonly statusOn: string | null;
  readonly location: string | null;
  readonly reading: FleetReading;
  /** What decided the reading first. */
  readonly reasons: readonly FleetReason[];
  /** The last run that is entered; null where none is. */
  readonly lastRunOn: string | null;
  readonly recordsLate: boolean;
  /** Hours run since the last redress; null where there is none. */
  readonly hoursSinceRedress: number | null;
  readonly nextRun: {
    readonly hours: number;
    readonly source: "planned" | "usual";
    readonly startOn: string | null;
    /** Highest temperature planned, degC; null: taken as the wells so far. */
    readonly celsius: number | null;
  };
  /** Chance that a job-stopping failure comes in the next run, given all that is known. */
  readonly chance: Estimate;
  /** The mode that makes most of the chance. */
  readonly driver: { readonly item: string; readonly mode: string; readonly age: Age; readonly share: number } | null;
  /** Longest run that keeps the upper bound of the chance at or under the allowed one; null: none does. */
  readonly hoursLeft: number | null;
  /** True where the chance stays under it over all hours looked at. */
  readonly hoursLeftBeyond: boolean;
  /** Chance against hours of the run. */
  readonly byHours: { readonly hours: readonly number[]; readonly chance: LineWithBounds };
  /** Every mode that the chance counts, and hidden ones with their chance of being there. */
  readonly modes: readonly {
    readonly item: string;
    readonly mode: string;
    readonly age: Age;
    /** Where the mode follows the heat: its age in hours at the reference temperature. */
    readonly heatAge: number | null;
    readonly state: "running" | "failed" | "not known";
    readonly kind: "stops a job" | "waits for the shop";
    /** In the next run; for a hidden mode: that it is there now. */
    readonly chance: number;
  }[];
}

export interface FleetResult {
  readonly kind: "fleet";
  readonly definition: StudyDefinition;
  readonly provenance: Provenance;
  readonly scope: Scope;
  readonly failureDefinition: FailureDefinition;
  readonly tools: readonly FleetTool[];
  /** Which modes follow the heat of the wells, by tool type; types whose runs tell of no heat are left out. */
  readonly heat: readonly FleetHeat[];
  /** Lost or scrapped: not on the board. */
  readonly gone: number;
  readonly allowedChance: number;
  readonly oneSided: number;
  /** Null where no run tells how the tools are used. */
  readonly forecast: FleetForecast | null;
  /** Interval in force by tool type, where one is decided. */
  readonly intervals: readonly { readonly toolType: string; readonly intervalH: number; readonly datedOn: string }[];
  readonly notices: readonly Notice[];
}

/** Temperatures in degC. */
export interface FleetHeat {
  readonly toolType: string;
  readonly referenceC: number;
  readonly lowC: number;
  readonly highC: number;
  readonly modes: readonly HeatVerdict[];
}

/** A count over the futures: its mean and the range that holds it with the confidence asked. */
export interface CountRange {
  readonly mean: number;
  readonly lower: number;
  readonly upper: number;
}

/** What was foretold on a past date from what was known then, beside what came. Jobs stopped by a failure. */
export interface LookedBack {
  readonly months: 3 | 6 | 12;
  readonly actual: number;
  readonly foretold: ForetoldCount;
  /** The same with the hours that each tool then ran: what the laws foretell, without the guess at use. */
  readonly useKnown: ForetoldCount;
  /** The year before, in proportion to the months. */
  readonly byLastYear: number;
}

export interface ForetoldCount extends CountRange {
  /** Share of the futures with fewer than came, and with just as many. */
  readonly below: number;
  readonly equal: number;
}

/** A year ahead, from present ages, coming jobs and the practice of redressing. */
export interface FleetForecast {
  readonly months: readonly { readonly from: string; readonly failures: CountRange; readonly redresses: CountRange }[];
  /** Failures that stop jobs, and redresses, in the year. */
  readonly failures: CountRange;
  readonly redresses: CountRange;
  /** Failures that stopped jobs in the year before. */
  readonly lastYear: number;
  readonly hoursPerYear: number;
  /** Looking back from a past date, over each horizon that is over by now; empty in the present. */
  readonly lookBack: readonly LookedBack[];
  readonly service: number;
  readonly kits: readonly {
    readonly kit: string;
    readonly toolType: string;
    readonly perYear: CountRange;
    /** Null: taken as a month. */
    readonly leadTimeD: number | null;
    readonly onHand: number | null;
    /** Used within the lead time; enough for the service level; chance that those on hand are not; to order. */
    readonly expected: number;
    readonly enough: number;
    readonly shortChance: number | null;
    readonly toOrder: number | null;
  }[];
  readonly method: { readonly futures: number; readonly draws: number };
}
