/** Repeated events of tools that go on after each: the vocabulary of `recurrence`. */

/** One tool: the stretches of its clock that were under observation, and when the event happened. */
export interface RecurrentUnit {
  readonly id: string;
  /** Disjoint, ascending; observed in (from, to]. More than one: there were gaps in observation. */
  readonly observed: readonly { readonly from: number; readonly to: number }[];
  /** Ages of the events, any order, each in an observed stretch; repeated where several came at one age. */
  readonly events: readonly number[];
}

/** One system followed from age 0. */
export interface FollowedSystem {
  /** Ages of its failures, any order, above 0 and not after `end`. */
  readonly failures: readonly number[];
  readonly end: number;
  /** What ended the observation: the calendar, or the last failure itself (then `end` is its age). */
  readonly endedBy: "time" | "failure";
}

export interface Bounds {
  readonly lower: number;
  readonly upper: number;
}
