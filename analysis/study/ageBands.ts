import type { RateBand } from "../estimation/rateRatio.ts";
import { type Exposure, type ExposureScope, ranInScope } from "./exposure.ts";

/** A day that cuts the records in two. */
export interface DatedChange {
  readonly on: string;
  /** First day counted as "after", where it is not the day of the change. */
  readonly countedFrom: string | null;
  /** Builds from that day on, or runs from that day on. */
  readonly appliesTo: "builds" | "runs";
}

/** Ages at which one band ends and the next begins, in hours. Common practice, no source. */
export const bandEdges: readonly number[] = [50, 100, 200, 400];

/**
 * Hours under observation and failures before and after a change, by age. A failure counts at the age at which it was
 * found.
 */
export function ageBands(
  exposures: readonly Exposure[],
  scope: ExposureScope,
  change: DatedChange,
): readonly RateBand[] {
  const bands = Array.from({ length: bandEdges.length + 1 }, () => ({
    before: { failures: 0, hours: 0 },
    after: { failures: 0, hours: 0 },
  }));
  for (const { life, pieces, failure } of exposures) {
    const last = pieces.at(-1);
    for (const piece of pieces) {
      const side = sideOf(change, change.appliesTo === "builds" ? life.sinceOn : piece.on);
      if (side === null || !ranInScope(scope, piece)) continue;
      for (const [at, band] of bands.entries()) {
        const [low, high] = [bandEdges[at - 1] ?? 0, bandEdges[at] ?? Number.POSITIVE_INFINITY];
        band[side].hours += Math.max(0, Math.min(piece.from + piece.hours, high) - Math.max(piece.from, low));
      }
    }
    if (failure === null || !last || !ranInScope(scope, failure)) continue;
    const side = sideOf(change, change.appliesTo === "builds" ? life.sinceOn : last.on);
    const age = last.from + last.hours;
    const band = bands[bandEdges.filter((edge) => edge < age).length];
    if (side !== null && band) band[side].failures++;
  }
  return bands;
}

/** Which side of a change a day lies on; null between the change and the first day counted as after. */
export function sideOf({ on, countedFrom }: DatedChange, day: string): "before" | "after" | null {
  if (day < on) return "before";
  return day >= (countedFrom ?? on) ? "after" : null;
}
