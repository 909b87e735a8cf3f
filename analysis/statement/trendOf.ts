import { powerLaw } from "../recurrence/powerLaw.ts";
import { trendTests } from "../recurrence/trendTests.ts";
import { gateLimits } from "./meanTimeGate.ts";
import { type ScopedRun, toolSystems } from "./scopedData.ts";
import type { StatementTrend } from "./types.ts";

/** Fewer failures than this leave the tests no power. Common practice, no source. */
const FEW = 5;

/** Do runs that the tool ended come closer together as the tools grow older? */
export function trendOf(runs: readonly ScopedRun[]): StatementTrend {
  const systems = toolSystems(runs);
  const { laplace, handbook, failures } = trendTests(systems);
  const bounds = powerLaw(systems, { confidence: gateLimits.confidence })?.conditional ?? null;
  const silent = (laplace?.pValue ?? 1) >= gateLimits.trend && (handbook?.pValue ?? 1) >= gateLimits.trend;
  return {
    failures,
    hours: systems.reduce((sum, { end }) => sum + end, 0),
    systems: systems.length,
    laplace,
    handbook: handbook && {
      chiSquare: handbook.chiSquare,
      degreesOfFreedom: handbook.degreesOfFreedom,
      pValue: handbook.pValue,
    },
    shape: bounds && { value: bounds.unbiasedShape ?? bounds.shape, ...bounds.bounds },
    direction:
      failures < FEW
        ? "too few failures"
        : silent
          ? "none shown"
          : (laplace?.statistic ?? 0) < 0
            ? "improving"
            : "worsening",
  };
}
