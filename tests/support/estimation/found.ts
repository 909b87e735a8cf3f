import { fitWeibull, type WeibullFound } from "../../../analysis/estimation/fitWeibull.ts";
import { type LifeInput, lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import type { LifeSample } from "../../../analysis/estimation/types.ts";

/** Fits lives that are known to have a maximum; throws where it was not found. */
export function found(
  lives: readonly LifeInput[],
  unit = "h",
): { readonly sample: LifeSample; readonly fit: WeibullFound } {
  const sample = lifeSample({ unit, lives });
  const fit = fitWeibull(sample);
  if (fit.maximum !== "found") throw new Error(`no maximum: ${fit.maximum}`);
  return { sample, fit };
}

export const failed = (...ages: number[]): LifeInput[] => ages.map((age) => ({ lower: age, upper: age }));
export const running = (...ages: number[]): LifeInput[] => ages.map((age) => ({ lower: age, upper: null }));
