/**
 * A second, slow and obvious implementation of the Weibull log likelihood, straight from the definition of each kind of
 * life, and of a likelihood-ratio bound by plain search. Shares nothing with `analysis/estimation` but the sample.
 */
import type { LifeSample } from "../../../analysis/estimation/types.ts";

export function slowLogLikelihood(sample: LifeSample, shape: number, scale: number): number {
  const survival = (age: number): number =>
    age === Number.POSITIVE_INFINITY ? 0 : Math.exp(-((age / scale) ** shape));
  const density = (age: number): number => (shape / scale) * (age / scale) ** (shape - 1) * survival(age);
  let sum = 0;
  for (let row = 0; row < sample.n; row++) {
    const lower = sample.lower[row]!;
    const lowerHigh = sample.lowerHigh[row]!;
    const upper = sample.upper[row]!;
    const upperHigh = sample.upperHigh[row]!;
    const isExact = lower === upper && lowerHigh === upperHigh;
    const probability = isExact
      ? average(density, lower, lowerHigh)
      : average(survival, lower, lowerHigh) - average(survival, upper, upperHigh);
    sum += sample.count[row]! * (Math.log(probability) - Math.log(survival(sample.entry[row]!)));
  }
  return sum;
}

/** Mean of f over [low, high], by the midpoint rule in many small steps. */
function average(f: (age: number) => number, low: number, high: number): number {
  if (low === high) return f(low);
  const steps = 4_000;
  let sum = 0;
  for (let i = 0; i < steps; i++) sum += f(low + ((i + 0.5) / steps) * (high - low));
  return sum / steps;
}

/** Largest value of f over log x in [low, high]: a grid, then golden section around its best point. */
export function slowMaximum(f: (x: number) => number, low: number, high: number): number {
  const points = 160;
  const at = (i: number): number => Math.exp(low + (i / points) * (high - low));
  let best = 0;
  let bestValue = Number.NEGATIVE_INFINITY;
  for (let i = 0; i <= points; i++) {
    const value = f(at(i));
    if (value > bestValue) {
      bestValue = value;
      best = i;
    }
  }
  let a = Math.log(at(best - 1));
  let b = Math.log(at(best + 1));
  const ratio = (Math.sqrt(5) - 1) / 2;
  let c = b - ratio * (b - a);
  let d = a + ratio * (b - a);
  for (let i = 0; i < 60; i++) {
    if (f(Math.exp(c)) > f(Math.exp(d))) b = d;
    else a = c;
    c = b - ratio * (b - a);
    d = a + ratio * (b - a);
  }
  return Math.max(bestValue, f(Math.exp((a + b) / 2)));
}
