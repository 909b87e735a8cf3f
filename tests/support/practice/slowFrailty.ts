/** A second likelihood of Weibull lives with a gamma frailty by tool: each tool's lives averaged over the frailty in small steps. */
import type { LifeSample } from "../../../analysis/estimation/types.ts";
import { gamma } from "../../../analysis/numerics/index.ts";
import type { DesignMatrix } from "../../../analysis/practice/types.ts";

export interface SlowFrailty {
  readonly shape: number;
  readonly scale: number;
  readonly variance: number;
  readonly coefficients: readonly number[];
}

export function slowFrailty(
  sample: LifeSample,
  design: DesignMatrix,
  clusters: readonly string[],
  { shape, scale, variance, coefficients }: SlowFrailty,
): number {
  const k = design.names.length;
  const hazard = (i: number, age: number): number =>
    (age / scale) ** shape * Math.exp(coefficients.reduce((sum, b, j) => sum + b * (design.values[i * k + j] ?? 0), 0));
  const lifeGiven = (i: number, u: number): number => {
    const [lower, upper] = [sample.lower[i] ?? 0, sample.upper[i] ?? 0];
    const sound = Math.exp(-u * hazard(i, lower));
    if (upper === Number.POSITIVE_INFINITY) return sound;
    if (upper === lower) return ((u * hazard(i, lower) * shape) / lower) * sound;
    return sound - Math.exp(-u * hazard(i, upper));
  };
  let total = 0;
  for (const name of new Set(clusters)) {
    const rows = clusters.flatMap((one, i) => (one === name ? [i] : []));
    const product = (of: (i: number) => number): number =>
      rows.reduce((all, i) => all * of(i) ** (sample.count[i] ?? 1), 1);
    const seen = average((u) => product((i) => lifeGiven(i, u)), variance);
    const entered = average((u) => product((i) => Math.exp(-u * hazard(i, sample.entry[i] ?? 0))), variance);
    total += Math.log(seen) - Math.log(entered);
  }
  return total;
}

/** Mean of f(u) over the gamma law with mean 1, by the midpoint rule in log u. */
function average(f: (u: number) => number, variance: number): number {
  const r = 1 / variance;
  const [low, high, steps] = [-60, 5, 8_000];
  const width = (high - low) / steps;
  let sum = 0;
  for (let i = 0; i < steps; i++) {
    const v = low + (i + 0.5) * width;
    sum += (width * f(Math.exp(v)) * Math.exp(r * (Math.log(r) + v - Math.exp(v)))) / gamma(r);
  }
  return sum;
}
