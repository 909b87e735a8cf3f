/** What came of a decision: failures and hours before its date and since. Plain JSON. */
import type { RateBand } from "../estimation/rateRatio.ts";
import type { ComparisonByTool } from "./compareByTool.ts";
import type { RateComparison } from "./compareRates.ts";

/** Rates before and since. */
export interface SinceComparison extends RateComparison, ComparisonByTool {
  /** Failures that the hours since would have brought at the rates before, within the same bands. */
  readonly expectedAfter: number;
}

export interface SinceRow {
  /** Null, as the mode, for all modes together. */
  readonly item: string | null;
  readonly mode: string | null;
  /** Per hour, whatever the ages: what a shorter interval moves. */
  readonly asTheyCame: SinceComparison;
  /** Within bands of age of each mode: what else moved. */
  readonly sameAge: SinceComparison;
}

/** Hours since the redress before, at planned redresses. */
export interface PlannedAges {
  readonly planned: number;
  readonly quarter: number;
  readonly middle: number;
  readonly threeQuarters: number;
}

export interface SinceDecided {
  readonly decision: {
    readonly datedOn: string;
    readonly statement: string;
    /** Or `whole tool`. */
    readonly item: string;
    readonly intervalH: number | null;
  };
  /** Date of the decision that held before; runs that came in earlier are not counted. Null: none, all records before count. */
  readonly countedFrom: string | null;
  /** "found in the shop": no mode that the redress restores stops a job. */
  readonly counts: "stopped jobs" | "found in the shop";
  readonly state: "compared" | "nothing before" | "nothing since";
  readonly cutoff: string;
  readonly total: SinceRow;
  /** Modes with failures; none where the scope has one mode. */
  readonly modes: readonly SinceRow[];
  /** Hours, summed over the modes, and failures by age. */
  readonly ages: readonly (RateBand & { readonly from: number; readonly to: number | null })[];
  /** Whether the decision was kept; null where nothing was planned, or the decision is of one item. */
  readonly planned: { readonly before: PlannedAges | null; readonly after: PlannedAges | null };
}
