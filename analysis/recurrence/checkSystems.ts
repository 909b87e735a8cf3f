import { AnalysisError } from "../errors.ts";
import type { FollowedSystem } from "./types.ts";

/** A system with its failures in order, and those that count for a test of trend given its end. */
export interface OrderedSystem extends FollowedSystem {
  /** Without the failure that ended the observation: given the end, the others are spread over (0, end). */
  readonly usable: readonly number[];
}

/** Refuses systems that cannot have happened; orders their failures. Errors "bad-setting", naming the system by its number. */
export function checkSystems(systems: readonly FollowedSystem[]): readonly OrderedSystem[] {
  return systems.map((system, index) => {
    const refuse = (value: number, allowed: string): never => {
      throw new AnalysisError("bad-setting", { setting: `system ${index + 1}`, value: String(value), allowed });
    };
    const { end, endedBy } = system;
    if (!(Number.isFinite(end) && end > 0)) refuse(end, "an end above 0");
    const failures = [...system.failures].sort((a, b) => a - b);
    for (const age of failures) if (!(age > 0 && age <= end)) refuse(age, `failures above 0, at most ${end}`);
    const last = failures.at(-1);
    if (endedBy === "failure" && last !== end) refuse(last ?? 0, `a last failure at its end, ${end}`);
    return { end, endedBy, failures, usable: endedBy === "failure" ? failures.slice(0, -1) : failures };
  });
}

/** The common end of all systems, or null where they differ. */
export function commonEnd(systems: readonly FollowedSystem[]): number | null {
  const first = systems[0]?.end;
  return first !== undefined && systems.every((system) => system.end === first) ? first : null;
}
