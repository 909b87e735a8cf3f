import type { FollowedSystem } from "../recurrence/types.ts";
import { type Exposure, type ExposureScope, ranInScope } from "../study/exposure.ts";

/**
 * Each tool as one system for a mode: its hours under observation in scope laid end to end, and the hour on that clock at
 * which each failure was found.
 */
export function followedSystems(exposures: readonly Exposure[], scope: ExposureScope): readonly FollowedSystem[] {
  const bySerial = new Map<string, Exposure[]>();
  for (const exposure of exposures) {
    const { serial } = exposure.life;
    bySerial.set(serial, [...(bySerial.get(serial) ?? []), exposure]);
  }
  return [...bySerial.values()].flatMap((own): FollowedSystem[] => {
    const ordered = [...own].sort((a, b) => (a.life.sinceOn < b.life.sinceOn ? -1 : 1));
    const failures: number[] = [];
    let end = 0;
    for (const { pieces, failure } of ordered) {
      for (const piece of pieces) if (ranInScope(scope, piece)) end += piece.hours;
      if (failure && ranInScope(scope, failure) && end > 0) failures.push(end);
    }
    return end > 0 ? [{ failures, end, endedBy: "time" }] : [];
  });
}
