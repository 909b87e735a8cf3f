/** Lives: what one restoration of one mode of one item is known to have lasted. The vocabulary of `deriveLives`. */
import type { RowRef } from "../records/descriptor.ts";

/**
 * An age on the study's clock, in hours. A pair [low, high] is an age known only to lie in that range, both ends
 * included: hours of a run were not written down, or another mode's failure ended the life unseen.
 */
export type Age = number | readonly [low: number, high: number];

export type LifeKind = "exact" | "right" | "left" | "interval";

/** A look at the item during this life. */
export interface LookMark {
  readonly row: RowRef;
  readonly on: string;
  readonly age: Age;
  /** `failed`: this mode at or above its threshold. `spoilt`: the item was destroyed by another mode, so no clean look. */
  readonly found: "sound as written" | "sound by scope" | "failed" | "spoilt";
  /** The look happened because of a failure of the same item. */
  readonly informative: boolean;
}

/** A run of this life, on its clock. */
export interface RunMark {
  readonly row: RowRef;
  readonly outOn: string;
  /** Null while the tool is still out. */
  readonly inOn: string | null;
  readonly from: Age;
  readonly to: Age;
}

export interface Life {
  /** Stable: made of item, mode, serial and the restoring redress. */
  readonly id: string;
  readonly toolType: string;
  readonly sizeIn: number | null;
  readonly serial: string;
  readonly item: string;
  readonly itemSerial: string | null;
  readonly mode: string;
  /** The redress that last restored this mode (where records begin in mid-life, the first that names it). */
  readonly since: string;
  readonly sinceOn: string;
  readonly kind: LifeKind;
  /** Last age known sound; for `exact` the age of failure. */
  readonly lower: Age;
  /** First age known failed; null for `right`. */
  readonly upper: Age | null;
  /** Age at which observation began; above 0 is left truncation. */
  readonly entry: number;
  /** Why an age is a range: hours not written down, or ended unseen by another mode's failure. */
  readonly rangeBecause: "hours missing" | "ended by another mode" | null;
  /** What closed the life, and whether that look followed a failure of the same item. */
  readonly closedBy: "failure" | "look" | "last run" | "loss" | "another mode";
  /** Date on which that became known: of the closing look, or of the closing run's return. */
  readonly endedOn: string;
  readonly informative: boolean;
  readonly looks: readonly LookMark[];
  /** Runs of this life on the clock, in order, for the chart of histories. */
  readonly runs: readonly RunMark[];
  /** Every record behind this life: the restoring redress, the runs, the looks, the findings. */
  readonly rows: readonly RowRef[];
}

export interface NoInformation {
  readonly toolType: string;
  readonly sizeIn: number | null;
  readonly serial: string;
  readonly item: string;
  readonly mode: string;
  readonly since: string;
  readonly sinceOn: string;
  readonly reason: "not looked at since restored" | "never ran" | "only looked at from outside";
  /** Hours used since restored; they are known to nobody yet. */
  readonly hours: Age;
  readonly rows: readonly RowRef[];
}

export interface Excluded {
  readonly toolType: string;
  readonly sizeIn: number | null;
  readonly serial: string;
  readonly item: string;
  readonly mode: string;
  readonly since: string;
  readonly sinceOn: string;
  readonly reason:
    | "age unknown when records begin"
    | "condition unknown when records begin"
    | "build reject"
    | "restoration not written down"
    | "hours kind differs";
  readonly hours: Age;
  readonly rows: readonly RowRef[];
}

export interface ToolEvent {
  readonly serial: string;
  readonly event: "lost in hole" | "tool failure, cause masked";
  readonly on: string;
  /** Hours of the tool since its records began (with its hours at entry where known). */
  readonly age: Age;
  readonly run: string;
}

export interface AlreadyFailed {
  readonly serial: string;
  readonly item: string;
  readonly mode: string;
  readonly teardown: string;
}

/** Run hours that no life could use, by reason. Used plus unused hours are all run hours. */
export interface HoursAccount {
  readonly total: Age;
  readonly used: Age;
  readonly unused: readonly { readonly reason: UnusedHoursReason; readonly hours: Age; readonly runs: number }[];
}

export type UnusedHoursReason =
  | "run without build"
  | "run of a tool not in the list"
  | "duplicate"
  | "overlaps another run"
  | "after the cut-off"
  | "hours kind differs";

/** Notices of the derivation: a code with facts; `analysis/wording` makes the sentence. */
export interface LivesNotice {
  readonly code:
    | "run-duplicate"
    | "run-hours-missing"
    | "run-overlaps"
    | "run-without-build"
    | "run-hours-exceed-dates"
    | "hour-seen-beyond-run"
    | "tool-not-listed"
    | "item-not-listed"
    | "mode-not-listed"
    | "look-after-cutoff"
    | "look-without-build"
    | "lost-cause-unknown"
    | "tool-failure-no-item"
    | "out-but-silent"
    | "severity-missing"
    | "cause-not-found"
    | "item-in-two-tools";
  readonly facts: Readonly<Record<string, string | number | null>>;
  readonly rows: readonly RowRef[];
}

/** What the study says a life is. */
export interface LivesDefinition {
  /** Looks, runs and redresses after this date are not used, not even to bound. Null: the latest date in the records. */
  readonly cutoff: string | null;
  /** Overrides of the modes' severity thresholds, `item: mode` or `mode` to severity. */
  readonly thresholds?: Readonly<Record<string, number>>;
  /** "Refitted means looked at and sound": lets hidden modes enter in mid-life without a look. */
  readonly refittedMeansSound?: boolean;
  /** Kind of hours the clock counts; runs of another kind are not used. Null: whatever is written, if all the same. */
  readonly hoursKind?: "circulating" | "drilling" | "below rotary" | null;
}

/** Every restoration of every mode of every item is in exactly one of the first three lists. */
export interface DerivedLives {
  readonly cutoff: string;
  readonly lives: readonly Life[];
  readonly noInformationYet: readonly NoInformation[];
  readonly excluded: readonly Excluded[];
  readonly toolEvents: readonly ToolEvent[];
  readonly alreadyFailed: readonly AlreadyFailed[];
  readonly buildRejects: readonly string[];
  readonly hours: HoursAccount;
  readonly notices: readonly LivesNotice[];
}
