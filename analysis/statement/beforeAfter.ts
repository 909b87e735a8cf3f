import type { RateBand } from "../estimation/rateRatio.ts";
import { bandsOf } from "../estimation/ratioByTool.ts";
import type { ToolCell } from "../estimation/toolSpread.ts";
import { bandEdges, sideOf } from "../study/ageBands.ts";
import { compareByTool, toolCells } from "../study/compareByTool.ts";
import { judgeComparisons, type UnjudgedComparison } from "../study/compareRates.ts";
import type { ScopedData, ScopedRun } from "./scopedData.ts";
import type { BeforeAfter, StatementChange } from "./types.ts";

/**
 * Failure rates before and after a change: runs that the tool ended, and each mode at the same ages. With a mode in the
 * scope, that mode alone. Where tools are shown to differ, bounds are by tool: exact ones would be too narrow.
 */
export function beforeAfter({ runs, groups, study }: ScopedData, change: StatementChange): BeforeAfter {
  const { scope, confidence } = study;
  const manyTypes = new Set(groups.map(({ toolType }) => toolType)).size > 1;
  const compare = (cells: readonly ToolCell[]): UnjudgedComparison => {
    const { spread: _spread, byTool: _byTool, ...told } = compareByTool(cells, study);
    return told;
  };
  const compared = [
    ...(scope.mode === null && scope.item === null
      ? [
          {
            ...{ toolType: null, item: null, mode: null, ageStandardised: false },
            ...compare(runCells(runs, change)),
          },
        ]
      : []),
    ...groups
      .map(({ toolType, item, mode, exposures }) => ({
        ...{ toolType: manyTypes ? toolType : null, item, mode, ageStandardised: true },
        ...compare(toolCells(exposures, scope, change, "")),
      }))
      .filter(({ before, after }) => before.failures + after.failures > 0),
  ];
  return { change, bands: bandEdges, comparisons: judgeComparisons(compared, confidence) };
}

/** Failures and hours of all runs on either side of a change. */
export const runBand = (runs: readonly ScopedRun[], change: StatementChange): RateBand =>
  bandsOf(runCells(runs, change)).get("") ?? { before: { failures: 0, hours: 0 }, after: { failures: 0, hours: 0 } };

/** Runs that the tool ended have no age of an item: one stratum, on the side of the day the run came in. */
function runCells(runs: readonly ScopedRun[], change: StatementChange): readonly ToolCell[] {
  const cells = new Map<string, ToolCell>();
  for (const { run, on, hours, failed } of runs) {
    const side = sideOf(change, on);
    if (side === null) continue;
    const name = JSON.stringify([run.serial, side]);
    const before = cells.get(name);
    cells.set(name, {
      ...{ tool: run.serial, stratum: "", side },
      hours: hours + (before?.hours ?? 0),
      failures: (failed ? 1 : 0) + (before?.failures ?? 0),
    });
  }
  return [...cells.values()];
}
