import type { Estimate, ItemLifeResult, StudyDefinition } from "./types.ts";

/** A one-sided bound at c is the end of a two-sided interval at 2 c - 1. */
export const twoSidedConfidence = ({ confidence, sides }: Pick<StudyDefinition, "confidence" | "sides">): number =>
  sides === "lower" ? 2 * confidence - 1 : confidence;

type Bounded = Pick<ItemLifeResult, "fit" | "readings" | "survival" | "bounds" | "linked">;

/** Keeps of every estimate and of the curve the lower bound, at the one-sided confidence that was asked for. */
export function lowerOnly({ fit, readings, survival, bounds, linked }: Bounded, confidence: number): Bounded {
  const lower = (estimate: Estimate): Estimate =>
    estimate.method === "none" ? estimate : { ...estimate, upper: null, confidence, sides: "lower" };
  return {
    fit: fit && {
      ...fit,
      shape: lower(fit.shape),
      scale: lower(fit.scale),
      ...(fit.third === undefined ? {} : { third: lower(fit.third) }),
    },
    readings: {
      ...readings,
      b10: lower(readings.b10),
      median: lower(readings.median),
      mean: lower(readings.mean),
      reliability: lower(readings.reliability),
    },
    survival: survival && { ...survival, upper: survival.value },
    bounds: {
      ...bounds,
      bySerial: bounds.bySerial && { ...bounds.bySerial, b10IfSeparate: lower(bounds.bySerial.b10IfSeparate) },
    },
    linked: linked && {
      ...linked,
      delay: linked.delay && {
        shape: lower(linked.delay.shape),
        scale: lower(linked.delay.scale),
        tenth: lower(linked.delay.tenth),
        median: lower(linked.delay.median),
      },
    },
  };
}
