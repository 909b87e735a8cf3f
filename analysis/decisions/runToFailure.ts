import type { WeibullParameters } from "../distributions/weibull.ts";
import { cycleCost, redressCycle } from "./redressCycle.ts";
import type { ModeLaw, RedressCosts } from "./redressModel.ts";

/** Cost per hour of running until a mode stops the job; null where none ever does. */
export interface RunToFailure {
  readonly costRate: number;
  readonly meanLength: number;
}

const CELLS = 400;
/** Share of cycles still running where the sum is ended. */
const TAIL = 1e-6;

/** No planned redress at all: the cycle ends by the first failure that stops a job. */
export function runToFailure(laws: readonly ModeLaw[], costs: RedressCosts): RunToFailure | null {
  const end = endOfAll(laws);
  if (end === null) return null;
  const cycle = redressCycle(laws, end / CELLS, CELLS);
  const meanLength = cycle.meanLength[CELLS]!;
  return { costRate: cycleCost(cycle, costs)[CELLS]! / meanLength, meanLength };
}

/** An age by which all but one in a million have stopped a job by one mode or another; by halving, to a tenth. */
function endOfAll(laws: readonly ModeLaw[]): number | null {
  const far = laws.map((law): number =>
    law.kind === "hidden"
      ? Number.POSITIVE_INFINITY
      : law.kind === "evident"
        ? ageLeft(law.life, TAIL)
        : ageLeft(law.defect, TAIL / 2) + ageLeft(law.delay, TAIL / 2),
  );
  let end = Math.min(...far);
  if (!Number.isFinite(end)) return null;
  // Several modes together end sooner than the first of them alone would.
  while (redressCycle(laws, (end * 0.8) / 60, 60).running[60]! < TAIL) end *= 0.8;
  return end;
}

const ageLeft = ({ shape, scale }: WeibullParameters, share: number): number =>
  scale * (-Math.log(share)) ** (1 / shape);
