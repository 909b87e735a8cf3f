import { sameValue } from "../sameValues.ts";
import type { AuditShop, ShopRun, ToolStory } from "./auditShop.ts";

/** Two runs of one serial that cannot both be what they seem. `later` is the row doubted. */
export interface RunPair {
  readonly kind: "duplicate run" | "split run" | "serial in two places" | "runs overlap";
  readonly earlier: ShopRun;
  readonly later: ShopRun;
}

/**
 * Runs of one serial whose dates meet, each pair under one name: the same run written twice, one run written as two, the
 * tool in two wells at a time, or plainly overlapping. The derivation counts runs by the same idea of "the same run".
 */
export function runPairs({ stories }: AuditShop): readonly RunPair[] {
  const pairs: RunPair[] = [];
  for (const story of stories.values()) {
    // Runs are in order of going out; a long run can meet several that follow it.
    let meeting: ShopRun[] = [];
    for (const later of story.runs) {
      meeting = meeting.filter(({ inDay, outDay }) => Math.max(inDay ?? outDay, outDay) + 1 >= later.outDay);
      for (const earlier of meeting) {
        const kind = kindOf(earlier, later, story);
        if (kind !== null) pairs.push({ kind, earlier, later });
      }
      meeting.push(later);
    }
  }
  return pairs;
}

/** Pairs of one kind, one a doubted run: of three alike the second and third are doubted, each once. */
export function firstOfEachLater(pairs: readonly RunPair[], kind: RunPair["kind"]): readonly RunPair[] {
  const doubted = new Set<ShopRun>();
  return pairs.filter((pair) => {
    if (pair.kind !== kind || doubted.has(pair.later)) return false;
    doubted.add(pair.later);
    return true;
  });
}

function kindOf(earlier: ShopRun, later: ShopRun, story: ToolStory): RunPair["kind"] | null {
  if (isTwin(earlier, later)) return "duplicate run";
  if (earlier.inDay === null || later.inDay === null) return null;
  if (later.outDay > earlier.inDay + 1) return null;
  if (isSplit(earlier, later, story)) return "split run";
  const overlap = later.outDay < earlier.inDay && earlier.outDay < later.inDay;
  if (!overlap) return null;
  return differs(earlier.run.well, later.run.well) || differs(earlier.run.rig, later.run.rig)
    ? "serial in two places"
    : "runs overlap";
}

/** Same dates and hours, or same well and hours with dates that overlap. Without hours, dates and well must agree. */
function isTwin({ run: a, inDay }: ShopRun, { run: b, outDay }: ShopRun): boolean {
  const sameDates = a.out_on === b.out_on && sameValue(a.in_on, b.in_on);
  if (!sameValue(a.hours, b.hours)) return false;
  const sameWell = a.well != null && a.well === b.well;
  if (a.hours == null || a.hours === 0) return sameDates && sameWell;
  return sameDates || (sameWell && inDay !== null && outDay < inDay);
}

/**
 * One run written as two: the second goes out in the same well, at the same depth, within a day of the first coming in,
 * nothing done to the tool in between, and both sets of hours fit the days.
 */
function isSplit(earlier: ShopRun, later: ShopRun, story: ToolStory): boolean {
  const [a, b] = [earlier.run, later.run];
  if (a.well == null || a.well !== b.well || differs(a.depth_m, b.depth_m)) return false;
  if (a.pulled_because === "tool failure" || a.pulled_because === "lost in hole") return false;
  if (a.hours == null || b.hours == null || a.hours === 0 || b.hours === 0) return false;
  const days = Math.max(earlier.inDay ?? 0, later.inDay ?? 0) - earlier.outDay + 1;
  if (a.hours + b.hours > 24 * days) return false;
  const from = earlier.inDay ?? earlier.outDay;
  const between = ({ day }: { readonly day: number }) => day >= from && day <= later.outDay;
  return !story.looks.some((look) => look.stripped && between(look)) && !story.redresses.some(between);
}

const differs = (a: unknown, b: unknown): boolean => a != null && b != null && a !== b;
