/**
 * A second, slow and obvious log likelihood of any law, straight from the definition of each kind of life. It uses the law's
 * survival and density one age at a time and plain sums; `analysis/estimation` is not used but for the sample.
 */
import type { LifeLaw } from "../../../analysis/distributions/lifeLaw.ts";
import type { LifeSample } from "../../../analysis/estimation/types.ts";

export function slowLawLogLikelihood(sample: LifeSample, law: LifeLaw): number {
  // Age 0 bounds nothing, also for a law on the whole line.
  const survival = (age: number): number => (age === 0 ? 1 : age === Number.POSITIVE_INFINITY ? 0 : law.survival(age));
  let sum = 0;
  for (let row = 0; row < sample.n; row++) {
    const lower = sample.lower[row]!;
    const lowerHigh = sample.lowerHigh[row]!;
    const upper = sample.upper[row]!;
    const upperHigh = sample.upperHigh[row]!;
    const isExact = lower === upper && lowerHigh === upperHigh;
    const probability = isExact
      ? average(law.density, lower, lowerHigh)
      : average(survival, lower, lowerHigh) - average(survival, upper, upperHigh);
    const entry = sample.entry[row]!;
    sum += sample.count[row]! * (Math.log(probability) - Math.log(survival(entry)));
  }
  return sum;
}

/** Mean of f over [low, high], by the midpoint rule in many small steps. */
function average(f: (age: number) => number, low: number, high: number): number {
  if (low === high) return f(low);
  const steps = 2_000;
  let sum = 0;
  for (let i = 0; i < steps; i++) sum += f(low + ((i + 0.5) / steps) * (high - low));
  return sum / steps;
}
