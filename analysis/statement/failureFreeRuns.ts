import { studentQuantile } from "../numerics/index.ts";
import { exactShare } from "./exactShare.ts";
import type { FailureFree } from "./types.ts";

interface SerialRun {
  readonly serial: string;
  readonly hours: number;
  readonly failed: boolean;
}

/**
 * Share of runs that the tool did not end, with exact bounds by an effective number of runs: runs of one serial may go
 * alike, and then tell less than as many runs of different serials.
 *   design effect = variance of the share between serials / p (1 - p) / n, at least 1
 *   effective n   = n / design effect * (t(n - 1) / t(serials - 1))^2
 *
 * Conventions  No failures, or nothing but failures, or a single serial: the design effect is not known and taken as 1.
 * Source       Korn & Graubard (1998), Survey Methodology 24, 193-201; Clopper & Pearson (1934), Biometrika 26, 404-413.
 */
export function failureFreeRuns(runs: readonly SerialRun[], confidence: number): FailureFree {
  const bySerial = new Map<string, { runs: number; free: number; hours: number }>();
  for (const { serial, hours, failed } of runs) {
    const sum = bySerial.get(serial) ?? { runs: 0, free: 0, hours: 0 };
    bySerial.set(serial, { runs: sum.runs + 1, free: sum.free + (failed ? 0 : 1), hours: sum.hours + hours });
  }
  const n = runs.length;
  const free = runs.filter(({ failed }) => !failed).length;
  const clusters = [...bySerial.values()];
  const designEffect = designEffectOf(clusters, free / n, n);
  const upper = (1 + confidence) / 2;
  const shrink =
    designEffect > 1 ? (studentQuantile(upper, n - 1) / studentQuantile(upper, clusters.length - 1)) ** 2 : 1;
  const effective = (n / designEffect) * shrink;
  const bounds = exactShare(n === 0 ? 0 : (free / n) * effective, n === 0 ? 0 : effective, confidence);
  return {
    runs: n,
    free,
    share: n === 0 ? bounds : { ...bounds, value: free / n },
    designEffect,
    bySerial: [...bySerial]
      .map(([serial, one]) => ({ serial, ...one, share: exactShare(one.free, one.runs, confidence) }))
      .sort((a, b) => b.runs - a.runs || (a.serial < b.serial ? -1 : 1)),
  };
}

function designEffectOf(clusters: readonly { runs: number; free: number }[], share: number, n: number): number {
  const k = clusters.length;
  if (k < 2 || !(share > 0 && share < 1)) return 1;
  const squares = clusters.reduce((sum, { runs, free }) => sum + (free - share * runs) ** 2, 0);
  const variance = ((k / (k - 1)) * squares) / n ** 2;
  return Math.max(1, variance / ((share * (1 - share)) / n));
}
