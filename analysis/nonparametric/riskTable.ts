import type { LifeSample } from "../estimation/types.ts";
import { requireCensoring } from "./censoring.ts";

export interface RiskRow {
  readonly time: number;
  readonly atRisk: number;
  readonly failures: number;
  /** Indexes into the sample of the lives that failed here. */
  readonly failed: readonly number[];
}

export interface RiskTable {
  /** One row a distinct failure time, ascending. */
  readonly rows: readonly RiskRow[];
  /** Last age at which any life was followed. */
  readonly lastTime: number;
  /** Lives that entered above age 0 (or above `fromAge`), by count. */
  readonly lateEntries: number;
}

export interface RiskTableOptions {
  /** Only what happened after this age is used: lives over by then are left out, the others enter at it. */
  readonly fromAge?: number;
  /** Only these lives, by index. */
  readonly members?: readonly number[];
}

/**
 * Lives at risk and failures at each distinct failure time.
 *
 * Conventions  A life is at risk on (entry, exit]: censored at a failure time it is still at risk there, entered at a
 *              failure time it is not yet. Entry 0 means followed from the start, a failure at age 0 included.
 *              Counts weigh lives as repeated rows would.
 * Errors       as `requireCensoring`, exact and right-censored lives only.
 */
export function riskTable(
  sample: LifeSample,
  method: string,
  { fromAge = 0, members }: RiskTableOptions = {},
): RiskTable {
  requireCensoring(sample, method, ["exact", "right"]);
  const exit = (i: number): number => sample.lower[i] ?? 0;
  const entry = (i: number): number => Math.max(sample.entry[i] ?? 0, fromAge);
  const count = (i: number): number => sample.count[i] ?? 0;

  const used = (members ?? Array.from({ length: sample.n }, (_, i) => i)).filter(
    (i) => fromAge === 0 || exit(i) > fromAge,
  );
  const byExit = [...used].sort((a, b) => exit(a) - exit(b));
  const late = used.filter((i) => entry(i) > 0).sort((a, b) => entry(a) - entry(b));

  const rows: RiskRow[] = [];
  let atRisk = used.reduce((sum, i) => (entry(i) > 0 ? sum : sum + count(i)), 0);
  let nextLate = 0;
  for (let start = 0; start < byExit.length; ) {
    const time = exit(byExit[start] ?? 0);
    for (; nextLate < late.length && entry(late[nextLate] ?? 0) < time; nextLate += 1)
      atRisk += count(late[nextLate] ?? 0);
    let end = start;
    while (end < byExit.length && exit(byExit[end] ?? 0) === time) end += 1;
    const failed: number[] = [];
    let failures = 0;
    let over = 0;
    for (let place = start; place < end; place += 1) {
      const i = byExit[place] ?? 0;
      over += count(i);
      if (sample.upper[i] !== time) continue;
      failed.push(i);
      failures += count(i);
    }
    if (failures > 0) rows.push({ time, atRisk, failures, failed });
    atRisk -= over;
    start = end;
  }
  return {
    rows,
    lastTime: byExit.length > 0 ? exit(byExit[byExit.length - 1] ?? 0) : fromAge,
    lateEntries: used.reduce((sum, i) => (entry(i) > fromAge ? sum + count(i) : sum), 0),
  };
}
