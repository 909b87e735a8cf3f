/** Results of the decisions: when to redress. Plain JSON; a null number has its reason beside it. */
import type { PlannedAges, SinceDecided } from "./sinceDecidedTypes.ts";
import type { Estimate, FailureDefinition, Notice, Provenance, Scope, StudyDefinition } from "./types.ts";

/** What a decision is asked with, beside the scope. A null cost is taken from the records, or assumed and said so. */
export interface DecisionSettings {
  /** Cost of a planned redress that finds nothing. */
  readonly plannedCost: number | null;
  /** Cost of a failure that stops a job, the redress after it included. */
  readonly failureCost: number | null;
  /** What a defect found in the shop adds to a redress. */
  readonly foundCost: number | null;
  /** Chance of a job-stopping failure that the shop allows, before a redress or in the next run; in (0, 1). */
  readonly allowedChance: number;
  /** Hours of the next run; null takes the middle length of a run in scope. */
  readonly runHours: number | null;
  /** Highest temperature of the next well, degC; null: as the wells so far. On the board, where no planned run gives one. */
  readonly wellC: number | null;
}

export interface CostUsed {
  readonly amount: number;
  /** "asked": given with the question. "assumed": nobody gave it. */
  readonly source: "asked" | "records" | "assumed";
  /** Date from which a recorded cost holds. */
  readonly datedOn: string | null;
}

/** How a mode, or a defect with the failure it leads to, enters a decision. */
export interface ModeInDecision {
  readonly item: string;
  /** The failure, or the hidden mode. */
  readonly mode: string;
  /** The defect that leads to it, fitted with it. */
  readonly defect: string | null;
  readonly kind: "evident" | "hidden" | "linked";
  /** "constant rate": too few failures to tell how the risk changes with hours. */
  readonly law: "Weibull" | "both fitted together" | "constant rate";
  readonly lives: number;
  readonly failures: number;
  /** Of the mode, or of the time to the defect. */
  readonly shape: Estimate;
  readonly scale: Estimate;
  /** Longest age followed; what is said beyond it is beyond experience. */
  readonly longestAge: number;
  readonly stops: CostUsed | null;
  readonly found: CostUsed | null;
  /** At the recommended interval, else the median life without one: chances per cycle, and share of the cost of a cycle. */
  readonly perCycle: { readonly stops: number; readonly found: number; readonly costShare: number };
}

/** Lines on a grid of intervals with their bounds. All arrays have the same length, ages ascending. */
export interface LineWithBounds {
  readonly value: readonly number[];
  readonly lower: readonly number[];
  readonly upper: readonly number[];
}

/** "When do we redress?" */
export interface RedressIntervalResult {
  readonly kind: "redress interval";
  readonly definition: StudyDefinition;
  readonly provenance: Provenance;
  readonly scope: Scope;
  readonly toolType: string;
  readonly sizesIn: readonly number[];
  /** The item asked about; null for all that a usual redress renews. */
  readonly item: string | null;
  readonly failureDefinition: FailureDefinition;
  /** Null: no cost on record, all costs in planned redresses. */
  readonly currency: string | null;
  readonly planned: CostUsed;
  readonly modes: readonly ModeInDecision[];
  /** Modes of items that a usual redress does not renew: they have clocks of their own. */
  readonly ownClock: readonly { readonly item: string; readonly mode: string; readonly renewedShare: number }[];
  /** Cost per 1,000 h, chance of a job-stopping failure before the redress, and in a run that begins at the age. */
  readonly curves: {
    readonly age: readonly number[];
    readonly costRate: LineWithBounds;
    readonly stoppedBefore: LineWithBounds;
    /** Ends where a run would end past the grid. */
    readonly nextRun: LineWithBounds;
  };
  /** Age up to which lives were followed. */
  readonly longestAge: number;
  readonly verdict: {
    /** "no": no interval is cheaper than the longest one looked at. "not shown": the records leave it open. */
    readonly pays: "yes" | "not shown" | "no";
    /** Share of the parameter draws in which an interval pays. */
    readonly payShare: number;
    readonly because: "the risk does not rise with hours" | "a failure costs too little" | "nothing stops a job" | null;
    /** The mode that costs most without planned redresses. */
    readonly fixFirst: { readonly item: string; readonly mode: string; readonly costShare: number } | null;
  };
  /** Best interval by cost with the range that the parameters leave; null where none pays. */
  readonly optimum: Estimate;
  readonly recommended: {
    readonly age: number;
    readonly flatFrom: number;
    readonly flatTo: number;
    readonly flatToEnd: boolean;
    /** Per 1,000 h. */
    readonly costRate: Estimate;
    readonly stoppedBefore: Estimate;
    readonly regretMean: number | null;
    readonly regretUpper: number | null;
    readonly saving: Estimate;
    /** Share of the cost of today's practice saved, below 0 where that is cheaper; null where no redress tells it. */
    readonly againstToday: { readonly saving: Estimate; readonly cheaperShare: number } | null;
  } | null;
  /** Cost per 1,000 h without planned redresses. */
  readonly runToFailure: Estimate;
  readonly risk: {
    readonly allowedChance: number;
    /** One-sided confidence of the limits: the upper bound of the chance stays under the allowed one. */
    readonly oneSided: number;
    readonly runHours: number;
    readonly beforeRedress: AgeLimit;
    readonly nextRun: AgeLimit;
    /** Runs of `runHours`, of which so many may be stopped, that would show the allowed chance with the same confidence. */
    readonly demonstration: readonly { readonly failures: number; readonly runs: number }[];
  };
  /** Where the next well's temperature is given: hours above are hours at it. Null: not asked, or no run has a temperature. */
  readonly heat: HeatOfWells | null;
  /** What the shop does now: hours run since the redress before, at planned redresses; null where there were none. */
  readonly today: PlannedAges | null;
  /** Newest interval on record that holds for this tool type and item. */
  readonly decided: {
    readonly datedOn: string;
    readonly intervalH: number | null;
    readonly statement: string;
  } | null;
  /** What came of that decision; null without one. */
  readonly sinceDecided: SinceDecided | null;
  /** The best interval under other costs and other shapes, the estimate moved alone. */
  readonly sensitivity: readonly {
    readonly failureCostTimes: number;
    readonly shapeTimes: number;
    readonly optimum: number | null;
    readonly costRate: number;
  }[];
  /** Whole runs simulated, by the estimate; today's practice first. Empty without runs and redresses on record. */
  readonly policies: readonly PolicyRow[];
  readonly notices: readonly Notice[];
}

/** A number with the standard error of having simulated only so much. */
export interface SimulatedNumber {
  readonly value: number;
  readonly error: number;
}

/** One way to redress, run by run on the shop's run lengths. Numbers per 1,000 h. */
export interface PolicyRow {
  readonly policy:
    | "today's practice"
    | "recommended interval"
    | "limit of the allowed chance"
    | "decided interval"
    | "each item its own"
    | "only after failures";
  readonly intervalH: number | null;
  /** A null interval: the item is renewed only with others, or after a failure. */
  readonly itemIntervals: readonly { readonly item: string; readonly intervalH: number | null }[];
  readonly cost: SimulatedNumber;
  readonly failures: SimulatedNumber;
  /** Planned ones. */
  readonly redresses: SimulatedNumber;
  /** Full sets of items. */
  readonly kits: SimulatedNumber;
  /** Against today's practice, on the same lives and runs. */
  readonly costAgainstFirst: SimulatedNumber;
}

/** Whether a mode's hours count for more in hotter wells. */
export interface HeatVerdict {
  readonly item: string;
  readonly mode: string;
  readonly defect: string | null;
  readonly failures: number;
  /** Activation energy, kJ/mol, across the shop's wells: no property of a rubber. */
  readonly energy: Estimate;
  /** Of "hours count alike", allowing for the number of modes tested; null where not tested. */
  readonly adjustedPValue: number | null;
  readonly verdict: "follows the heat" | "not shown" | "under ten failures" | "no maximum";
}

/** Hours as they count in hotter and cooler wells. Temperatures in degC. */
export interface HeatOfWells {
  readonly wellC: number;
  /** Mean over the hours run. */
  readonly referenceC: number;
  /** 5 and 95 % of the hours were run below. */
  readonly lowC: number;
  readonly highC: number;
  /** Share of the hours whose run has a temperature. */
  readonly writtenShare: number;
  readonly modes: readonly HeatVerdict[];
  /** Limits and best interval in hours, were all hours run at a temperature; empty where no mode follows the heat. */
  readonly byTemperature: readonly {
    readonly celsius: number;
    readonly beforeRedress: AgeLimit;
    readonly nextRun: AgeLimit;
    readonly optimum: number | null;
  }[];
}

/** Largest age under an allowed chance. */
export interface AgeLimit {
  /** Null: too high from the start. */
  readonly age: number | null;
  /** By the estimate alone, without its uncertainty. */
  readonly estimate: number | null;
  /** The chance stays under what is allowed over all ages looked at. */
  readonly beyondGrid: boolean;
}
