import type { RateBand } from "../estimation/rateRatio.ts";
import { ageBands, bandEdges, sideOf } from "../study/ageBands.ts";
import { compareRates, judgeComparisons } from "../study/compareRates.ts";
import type { ScopedData, ScopedRun } from "./scopedData.ts";
import type { BeforeAfter, StatementChange } from "./types.ts";

/**
 * Failure rates before and after a change: runs that the tool ended, and each mode at the same ages. With a mode in the
 * scope, that mode alone.
 */
export function beforeAfter({ runs, groups, study }: ScopedData, change: StatementChange): BeforeAfter {
  const { scope, confidence } = study;
  const manyTypes = new Set(groups.map(({ toolType }) => toolType)).size > 1;
  const compared = [
    ...(scope.mode === null && scope.item === null
      ? [
          {
            ...{ toolType: null, item: null, mode: null, ageStandardised: false },
            ...compareRates([runBand(runs, change)], confidence),
          },
        ]
      : []),
    ...groups
      .map(({ toolType, item, mode, exposures }) => ({
        ...{ toolType: manyTypes ? toolType : null, item, mode, ageStandardised: true },
        ...compareRates(ageBands(exposures, scope, change), confidence),
      }))
      .filter(({ before, after }) => before.failures + after.failures > 0),
  ];
  return { change, bands: bandEdges, comparisons: judgeComparisons(compared, confidence) };
}

/** Runs that the tool ended have no age of an item: one band, on the side of the day the run came in. */
export function runBand(runs: readonly ScopedRun[], change: StatementChange): RateBand {
  const band = { before: { failures: 0, hours: 0 }, after: { failures: 0, hours: 0 } };
  for (const { on, hours, failed } of runs) {
    const side = sideOf(change, on);
    if (side === null) continue;
    band[side].hours += hours;
    if (failed) band[side].failures++;
  }
  return band;
}
