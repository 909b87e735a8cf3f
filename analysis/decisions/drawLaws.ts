import type { WeibullParameters } from "../distributions/weibull.ts";
import type { RandomStream } from "../estimation/bootstrap/randomStream.ts";
import { inverseGammaP, normalQuantile } from "../numerics/index.ts";
import type { ModeLaw } from "./redressModel.ts";

/**
 * Draws of a constant rate known by a count of failures over hours: gamma with shape failures + 1/2 (Jeffreys' prior), as a
 * Weibull law of shape 1. Failures of 0 still leave a rate above 0.
 * Source  Jeffreys (1961), Theory of Probability, 3rd ed., section 3.
 */
export function drawConstantRate(
  failures: number,
  hours: number,
  count: number,
  stream: RandomStream,
): WeibullParameters[] {
  return Array.from({ length: count }, () => ({
    shape: 1,
    scale: hours / Math.max(1e-9, inverseGammaP(failures + 0.5, stream.uniform())),
  }));
}

export const evidentOrHidden = (announces: "evident" | "hidden", life: WeibullParameters): ModeLaw => ({
  kind: announces,
  life,
});

/** Proposals come from a normal wider than the large-sample one by the factor. */
const WIDER = 1.5;

/**
 * Draws in proportion to the likelihood itself (a flat prior of the logarithms), where few failures make it far from normal:
 * normal proposals, each weighed by likelihood over proposal density, resampled in proportion (systematically).
 *
 * @param logLikelihood  Of the logarithms; -Infinity where the lives are impossible.
 * @param proposalsEach  Proposals for each draw that is kept; fewer where the likelihood is dear.
 * Source                Rubin (1988), Bayesian Statistics 3, 395-402 (sampling, importance resampling).
 */
export function drawByLikelihood(
  estimate: readonly number[],
  covariance: readonly (readonly number[])[],
  logLikelihood: (at: readonly number[]) => number,
  count: number,
  stream: RandomStream,
  proposalsEach = 5,
): number[][] {
  const root = choleskyRoot(covariance);
  const top = logLikelihood(estimate);
  const proposals = Array.from({ length: proposalsEach * count }, () => {
    const standard = estimate.map(() => normalQuantile(Math.max(1e-12, stream.uniform())));
    const at = estimate.map(
      (centre, row) => centre + WIDER * root[row]!.reduce((sum, factor, column) => sum + factor * standard[column]!, 0),
    );
    const density = -0.5 * standard.reduce((sum, one) => sum + one * one, 0);
    const weight = Math.exp(logLikelihood(at) - top - density);
    return { at, weight: Number.isFinite(weight) ? weight : 0 };
  });
  const total = proposals.reduce((sum, { weight }) => sum + weight, 0);
  const kept: number[][] = [];
  let passed = 0;
  let next = (stream.uniform() * total) / count;
  for (const { at, weight } of proposals) {
    passed += weight;
    while (kept.length < count && passed > next) {
      kept.push(at.map(Math.exp));
      next += total / count;
    }
  }
  // The order of proposals must not tie the draws of one mode to those of another.
  return shuffled(kept, stream);
}

/**
 * Draws from the large-sample normal law of the logarithms: what many failures make of the likelihood, at none of its cost.
 *
 * @returns  Parameters themselves, not their logarithms.
 */
export function drawByNormal(
  estimate: readonly number[],
  covariance: readonly (readonly number[])[],
  count: number,
  stream: RandomStream,
): number[][] {
  const root = choleskyRoot(covariance);
  return Array.from({ length: count }, () => {
    const standard = estimate.map(() => normalQuantile(Math.max(1e-12, stream.uniform())));
    return estimate.map((centre, row) =>
      Math.exp(centre + root[row]!.reduce((sum, factor, column) => sum + factor * standard[column]!, 0)),
    );
  });
}

function shuffled<T>(values: readonly T[], stream: RandomStream): T[] {
  const order = [...values];
  for (let last = order.length - 1; last > 0; last--) {
    const other = stream.below(last + 1);
    [order[last], order[other]] = [order[other]!, order[last]!];
  }
  return order;
}

/** Lower triangular root of a covariance; directions without variance stay at 0. */
function choleskyRoot(covariance: readonly (readonly number[])[]): number[][] {
  const root = covariance.map((row) => row.map(() => 0));
  for (let i = 0; i < covariance.length; i++) {
    for (let j = 0; j <= i; j++) {
      let rest = covariance[i]![j]!;
      for (let k = 0; k < j; k++) rest -= root[i]![k]! * root[j]![k]!;
      if (i === j) root[i]![i] = Math.sqrt(Math.max(0, rest));
      else root[i]![j] = root[j]![j]! > 0 ? rest / root[j]![j]! : 0;
    }
  }
  return root;
}
