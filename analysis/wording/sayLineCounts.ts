import type { DropLineCounts } from "../records/drop.ts";
import { formatExact } from "./formatNumber.ts";

/** "371 new, 32 unchanged, 3 changed, 6 set aside": what is not there is left out, except that nothing was set aside. */
export function sayLineCounts(counts: DropLineCounts): string {
  const parts = [
    [counts.new, "new"],
    [counts.unchanged, "unchanged"],
    [counts.changed, "changed"],
  ] as const;
  const there = parts.filter(([count]) => count > 0).map(([count, word]) => `${formatExact(count)} ${word}`);
  return [...there, `${counts.setAside === 0 ? "none" : formatExact(counts.setAside)} set aside`].join(", ");
}
