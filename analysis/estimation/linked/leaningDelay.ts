import { Matrix, pseudoInverse } from "ml-matrix";
import { climbFree } from "./climbFree.ts";
import { type LinkedFound, regionFor } from "./fitLinked.ts";
import { hessianAt, type Jet, linkedLikelihood } from "./linkedLikelihood.ts";
import type { LinkedHistory, WeibullPair } from "./types.ts";

/** Standard deviation of the delay's log shape about 0: shapes from 0.38 to 2.7 in 95 of 100. Common practice, no source. */
const SPREAD = 0.5;
/** Place of the delay's log shape among the parameters. */
const DELAY_SHAPE = 2;

export interface LeaningFit extends WeibullPair {
  /** (log shape, log scale) of the defect, then of the delay. */
  readonly theta: readonly number[];
  /** Inverse information of likelihood and leaning together. */
  readonly covariance: readonly (readonly number[])[];
  /** Of likelihood and leaning together; -Infinity where the histories are impossible. */
  readonly logPosterior: (theta: readonly number[]) => number;
}

/**
 * A defect and the failure it leads to, for a decision: the delay leans on having no memory (an exponential one), its log
 * shape normal about 0. The dozens of failures of one shop rarely settle a shape of the delay; left free it runs to an edge
 * ("at once or never", or "after one and the same time"), takes the defect's law along, and the best interval with it. How
 * much better this decides is measured in tests/studies/results/decision-study.md.
 *
 * @param fit  By likelihood alone, of the same histories, or one of histories much like them: the climb begins there.
 * Source      Christer & Waller (1984), J. Oper. Res. Soc. 35, 401-406, for the exponential delay as the usual first model.
 */
export function leaningDelay(fit: Pick<LinkedFound, "theta">, histories: readonly LinkedHistory[]): LeaningFit | null {
  const at = (theta: Float64Array): Jet => leaned(linkedLikelihood(histories, theta), theta[DELAY_SHAPE]!);
  const region = regionFor(histories);
  const start = Float64Array.from(fit.theta, (value, place) =>
    place === DELAY_SHAPE ? Math.max(-SPREAD, Math.min(SPREAD, value)) : value,
  );
  const { theta, jet, converged } = climbFree(at, start, [0, 1, 2, 3], region);
  if (!converged) return null;
  const free = [0, 1, 2, 3].filter(
    (place) => theta[place]! > region.low[place]! && theta[place]! < region.high[place]!,
  );
  const inverse = pseudoInverse(
    new Matrix(free.map((i) => free.map((j) => -jet[hessianAt(Math.min(i, j), Math.max(i, j))]!))),
  );
  const covariance = [0, 1, 2, 3].map((i) =>
    [0, 1, 2, 3].map((j) => {
      const [row, column] = [free.indexOf(i), free.indexOf(j)];
      return row < 0 || column < 0 ? 0 : inverse.get(row, column);
    }),
  );
  const [k1, s1, k2, s2] = Array.from(theta, Math.exp) as [number, number, number, number];
  return {
    theta: Array.from(theta),
    covariance,
    defect: { shape: k1, scale: s1 },
    delay: { shape: k2, scale: s2 },
    logPosterior: (point) => at(Float64Array.from(point))[0]!,
  };
}

function leaned(jet: Jet, logShape: number): Jet {
  const precision = 1 / SPREAD ** 2;
  jet[0]! -= 0.5 * precision * logShape ** 2;
  jet[1 + DELAY_SHAPE]! -= precision * logShape;
  jet[hessianAt(DELAY_SHAPE, DELAY_SHAPE)]! -= precision;
  return jet;
}
