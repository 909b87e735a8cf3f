import { Matrix, pseudoInverse } from "ml-matrix";
import { type LinkedFound, regionFor } from "./fitLinked.ts";
import { hessianAt, linkedLikelihood } from "./linkedLikelihood.ts";
import type { LinkedHistory } from "./types.ts";

/**
 * Large-sample covariance of the four log parameters of a joint fit, `theta`: the inverse of the observed information.
 * A parameter at the edge of the region searched has a variance of 0: the lives say nothing about it, so nothing is said.
 */
export function linkedCovariance(fit: LinkedFound, histories: readonly LinkedHistory[]): number[][] {
  const theta = Float64Array.from(fit.theta);
  const { low, high } = regionFor(histories);
  const free = fit.theta.flatMap((value, place) => (value > low[place]! && value < high[place]! ? [place] : []));
  const jet = linkedLikelihood(histories, theta);
  const information = new Matrix(free.map((i) => free.map((j) => -jet[hessianAt(Math.min(i, j), Math.max(i, j))]!)));
  const inverse = pseudoInverse(information);
  return fit.theta.map((_, i) =>
    fit.theta.map((_, j) => {
      const [row, column] = [free.indexOf(i), free.indexOf(j)];
      return row < 0 || column < 0 ? 0 : inverse.get(row, column);
    }),
  );
}
