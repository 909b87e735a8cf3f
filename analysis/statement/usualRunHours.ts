import { median } from "simple-statistics";
import type { Records } from "../records/descriptor.ts";
import { runsOfScope } from "../study/countedRuns.ts";
import type { StatementDefinition } from "./types.ts";

/** The run length a statement is about: as asked, or the median written run of the scope, in whole hours; 100 h without any. */
export function usualRunHours({ runHours, scope }: StatementDefinition, records: Records): number {
  if (runHours !== null) return runHours;
  const hours = runsOfScope({ records }, scope).flatMap(({ hours: written }) =>
    written != null && written > 0 ? [written] : [],
  );
  return hours.length === 0 ? 100 : Math.max(1, Math.round(median(hours)));
}
