import type { Life } from "../lives/types.ts";
import { keyOf, type Row } from "../records/descriptor.ts";
import { countedRuns } from "../study/countedRuns.ts";
import { ranInScope } from "../study/exposure.ts";
import { type ExposureGroup, exposureGroups } from "../study/exposureGroups.ts";
import type { ShopData } from "../study/shopData.ts";
import type { StudyDefinition } from "../study/types.ts";

/** A counted run of the scope, and what was found after it. */
export interface ScopedRun {
  readonly key: string;
  readonly run: Row<"runs">;
  readonly on: string;
  readonly hours: number;
  /** The tool ended it: pulled for a tool failure, or lost. */
  readonly failed: boolean;
  /** Torn down or tested before it went out again. */
  readonly lookedAt: Row<"teardowns"> | null;
  /** Lives of the scope's modes that were found failed after this run. */
  readonly failedLives: readonly Life[];
}

/** What a statement counts: runs with what was found after them, and hours under observation by mode. */
export interface ScopedData {
  readonly data: ShopData;
  readonly study: StudyDefinition;
  readonly runs: readonly ScopedRun[];
  readonly groups: readonly ExposureGroup[];
}

export function scopedData(data: ShopData, study: StudyDefinition): ScopedData {
  const groups = exposureGroups(data, study);
  const failedAfter = new Map<string, Life[]>();
  for (const { life, failure } of groups.flatMap(({ exposures }) => exposures)) {
    const last = life.runs.at(-1)?.row.key;
    if (failure === null || last === undefined || !ranInScope(study.scope, failure)) continue;
    failedAfter.set(last, [...(failedAfter.get(last) ?? []), life]);
  }
  const teardowns = new Map<string, Row<"teardowns">[]>();
  for (const teardown of data.records.teardowns ?? []) {
    if (teardown.kind === "outside only" || teardown.done_on > data.derived.cutoff) continue;
    teardowns.set(teardown.serial, [...(teardowns.get(teardown.serial) ?? []), teardown]);
  }
  const outAgain = new Map<string, string[]>();
  for (const { serial, out_on } of data.records.runs ?? [])
    outAgain.set(serial, [...(outAgain.get(serial) ?? []), out_on]);
  return {
    data,
    study,
    groups,
    runs: countedRuns(data, study)
      .map(({ run, hours }): ScopedRun => {
        const key = keyOf("runs", run);
        const on = run.in_on ?? run.out_on;
        const next =
          (outAgain.get(run.serial) ?? []).filter((day) => day >= on && day !== run.out_on).sort()[0] ?? "9999";
        const look = (teardowns.get(run.serial) ?? [])
          .filter(({ done_on }) => done_on >= on && done_on <= next)
          .sort((a, b) => (a.done_on < b.done_on ? -1 : 1))[0];
        return {
          key,
          run,
          on,
          hours,
          failed: run.pulled_because === "tool failure" || run.pulled_because === "lost in hole",
          lookedAt: look ?? null,
          failedLives: failedAfter.get(key) ?? [],
        };
      })
      .sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : a.key < b.key ? -1 : 1)),
  };
}

/** Tools of the scope as systems: their runs end to end, a failure at the end of each run that the tool ended. */
export function toolSystems(
  runs: readonly ScopedRun[],
): readonly { failures: readonly number[]; end: number; endedBy: "time" }[] {
  const bySerial = new Map<string, { failures: number[]; end: number }>();
  for (const { run, hours, failed } of runs) {
    const system = bySerial.get(run.serial) ?? { failures: [], end: 0 };
    system.end += hours;
    if (failed && system.end > 0) system.failures.push(system.end);
    bySerial.set(run.serial, system);
  }
  return [...bySerial.values()].filter(({ end }) => end > 0).map((system) => ({ ...system, endedBy: "time" }));
}
