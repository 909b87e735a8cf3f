/** What a repair makes of a tool's age: type I takes back part of what the last stretch added, type II part of everything. */
export type RepairKind = "last stretch" | "whole age";

/** A tool's stretches from failure to failure, the first from new, and the one still running (null: ended at its last failure). */
export interface RepairedTool {
  readonly intervals: readonly number[];
  readonly running: number | null;
}

/** One stretch: virtual age when it began, how far it went, and how the former moves with the repair factor. */
export interface Stretch {
  readonly from: number;
  readonly length: number;
  readonly failed: boolean;
  readonly fromSlope: number;
}

/**
 * Virtual ages of all stretches for one repair factor q:
 *   last stretch  V <- V + q x        whole age  V <- q (V + x),       from V = 0
 * q = 0: as good as new each time. q = 1: as bad as old.
 *
 * Source  Kijima (1989), J. Appl. Prob. 26, 89-102, models I and II.
 */
export function virtualAgePath(tools: readonly RepairedTool[], kind: RepairKind, q: number): readonly Stretch[] {
  return tools.flatMap(({ intervals, running }) => {
    let from = 0;
    let fromSlope = 0;
    const stretches: Stretch[] = [];
    for (const length of intervals) {
      stretches.push({ from, length, failed: true, fromSlope });
      if (kind === "last stretch") {
        from += q * length;
        fromSlope += length;
      } else {
        fromSlope = from + length + q * fromSlope;
        from = q * (from + length);
      }
    }
    if (running !== null) stretches.push({ from, length: running, failed: false, fromSlope });
    return stretches;
  });
}
