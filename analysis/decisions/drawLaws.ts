import type { WeibullParameters } from "../distributions/weibull.ts";
import type { RandomStream } from "../estimation/bootstrap/randomStream.ts";
import { inverseGammaP, normalQuantile } from "../numerics/index.ts";
import type { ModeLaw } from "./redressModel.ts";

/** Normal draws of logarithms are held within so many standard errors: a farther law is no longer a matter of chance. */
const FARTHEST = 3.5;

/**
 * Normal draws around an estimate, as the large-sample distribution of maximum likelihood has them.
 *
 * @param estimate    Logarithms of positive parameters.
 * @param covariance  Of the same; a row of zeros holds its parameter where it is.
 */
export function drawLogNormal(
  estimate: readonly number[],
  covariance: readonly (readonly number[])[],
  count: number,
  stream: RandomStream,
): number[][] {
  const root = choleskyRoot(covariance);
  return Array.from({ length: count }, () => {
    const standard = estimate.map(() =>
      Math.max(-FARTHEST, Math.min(FARTHEST, normalQuantile(Math.max(1e-12, stream.uniform())))),
    );
    return estimate.map((centre, row) =>
      Math.exp(centre + root[row]!.reduce((sum, factor, column) => sum + factor * standard[column]!, 0)),
    );
  });
}

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
