import type { FleetReading, FleetReason } from "./fleetTypes.ts";
import type { PresentAge } from "./presentAges.ts";
import type { Estimate } from "./types.ts";

export interface ToolFacts {
  /** Modes found failed and not restored since. */
  readonly failed: readonly Pick<PresentAge, "item" | "mode">[];
  /** Modes that stop jobs whose age is not known, or of which nothing is known. */
  readonly unknown: readonly { readonly item: string; readonly mode: string }[];
  readonly chance: Estimate;
  readonly allowedChance: number;
  /** Longest run under the allowed chance; null: none. */
  readonly hoursLeft: number | null;
  /** Hours of the next run. */
  readonly run: number;
  readonly hoursSinceRedress: number | null;
  /** Interval decided for the tool type; null where none is. */
  readonly intervalH: number | null;
  readonly recordsLate: boolean;
  readonly lastRunOn: string | null;
  readonly statusOn: string | null;
}

/** With fewer hours than this left, no run fits: a redress is due. Common practice, no source. */
const NO_HOURS = 5;

/**
 * The reading of one tool, by the first of these that holds:
 *   redress due        an item found failed and not restored; the decided interval reached; under five hours left
 *   not enough known   its last run not entered; the age of a mode that stops jobs not known; nothing known at all
 *   look first         the next run's chance, upper bound, above the allowed one; the decided interval reached in the run
 *   inside its limit   none of these
 * Every reason of the reading that holds is given, not only the first. Advice, never a clearance.
 */
export function readTool(facts: ToolFacts): { reading: FleetReading; reasons: FleetReason[] } {
  const due = reasonsDue(facts);
  if (due.length > 0) return { reading: "redress due", reasons: due };
  const unknown = reasonsUnknown(facts);
  if (unknown.length > 0) return { reading: "not enough known", reasons: unknown };
  const look = reasonsToLook(facts);
  if (look.length > 0) return { reading: "look first", reasons: look };
  return {
    reading: "inside its limit",
    reasons: [{ code: "inside", facts: { hours_left: facts.hoursLeft, run: facts.run } }],
  };
}

function reasonsDue({
  failed,
  hoursSinceRedress,
  intervalH,
  hoursLeft,
  chance,
  allowedChance,
}: ToolFacts): FleetReason[] {
  const reasons: FleetReason[] = failed.map(({ item, mode }) => ({ code: "found-failed", facts: { item, mode } }));
  if (intervalH !== null && hoursSinceRedress !== null && hoursSinceRedress >= intervalH)
    reasons.push({ code: "interval-reached", facts: { hours: hoursSinceRedress, interval: intervalH } });
  if (chance.value !== null && (hoursLeft === null || hoursLeft < NO_HOURS))
    reasons.push({ code: "no-hours-left", facts: { hours_left: hoursLeft, allowed: allowedChance } });
  return reasons;
}

function reasonsUnknown({ recordsLate, lastRunOn, statusOn, unknown, chance }: ToolFacts): FleetReason[] {
  const reasons: FleetReason[] = [];
  if (recordsLate) reasons.push({ code: "records-late", facts: { last_run: lastRunOn, status_on: statusOn } });
  reasons.push(...unknown.map(({ item, mode }): FleetReason => ({ code: "age-unknown", facts: { item, mode } })));
  if (chance.value === null && unknown.length === 0) reasons.push({ code: "nothing-known", facts: {} });
  return reasons;
}

function reasonsToLook({ chance, allowedChance, run, hoursSinceRedress, intervalH }: ToolFacts): FleetReason[] {
  const reasons: FleetReason[] = [];
  if (chance.upper !== null && chance.upper > allowedChance)
    reasons.push({ code: "chance-too-high", facts: { upper: chance.upper, allowed: allowedChance, run } });
  if (intervalH !== null && hoursSinceRedress !== null && hoursSinceRedress + run > intervalH)
    reasons.push({ code: "interval-in-run", facts: { hours: hoursSinceRedress, run, interval: intervalH } });
  return reasons;
}
