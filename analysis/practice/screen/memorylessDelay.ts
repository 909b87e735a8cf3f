import { climbFree } from "../../estimation/linked/climbFree.ts";
import { fitLinked, regionFor } from "../../estimation/linked/fitLinked.ts";
import { linkedLikelihood } from "../../estimation/linked/linkedLikelihood.ts";
import type { LinkedHistory } from "../../estimation/linked/types.ts";

/** Law of a defect and of a delay without memory: log shape and log scale of each, the delay's log shape 0. */
export interface MemorylessDelay {
  readonly theta: readonly [logShape: number, logScale: number, delayLogShape: 0, delayLogScale: number];
}

/**
 * A defect and the failure it leads to, with a delay that has no memory (exponential). The dozens of failures of one shop
 * rarely settle a shape of the delay; left free it runs to an edge and takes the shape of the defect along, and with it every
 * multiplier of life.
 *
 * @returns  Null where the likelihood has no maximum.
 * Source    Christer & Waller (1984), J. Oper. Res. Soc. 35, 401-406, for the exponential delay as the usual first model.
 */
export function memorylessDelay(histories: readonly LinkedHistory[]): MemorylessDelay | null {
  const free = histories.length > 0 ? fitLinked(histories) : null;
  if (free?.maximum !== "found") return null;
  const region = regionFor(histories);
  const climbed = climbFree(
    (theta) => linkedLikelihood(histories, theta),
    Float64Array.of(free.theta[0]!, free.theta[1]!, 0, free.theta[3]!),
    [0, 1, 3],
    region,
  );
  if (!climbed.converged) return null;
  const { theta } = climbed;
  return { theta: [theta[0]!, theta[1]!, 0, theta[3]!] };
}
