import { fitLaw } from "../estimation/fitLaw.ts";
import { lawBounds } from "../estimation/lawBounds.ts";
import { lawQuantity } from "../estimation/lawQuantity.ts";
import { lifeSample } from "../estimation/lifeSample.ts";
import type { SettledLife } from "./settleAges.ts";
import type { Estimate } from "./types.ts";

/** From a falling risk to steep wear-out: the shapes of seals and joints lie between. Common practice, no source. */
export const SHAPES = [0.5, 1, 2, 4] as const;

/**
 * Share still good at an age, where the lives do not tell the shape (each looked at once, say). Under a given shape
 * (t / scale)^shape is exponential, so the share is read under each of several shapes; near the ages looked at they
 * agree. Value under shape 1, bounds the widest of all.
 *
 * @param age  In hours, > 0.
 * Source  Nelson (1985), J. Quality Technology 17, 140-146, for the power transform.
 */
export function shareStillGood(settled: readonly SettledLife[], age: number, confidence: number): Estimate | null {
  const readings = SHAPES.map((shape) => {
    const power = (value: number) => value ** shape;
    const sample = lifeSample({
      unit: "h^shape",
      lives: settled.map(({ life, lower, lowerHigh, upper, upperHigh, entry }) => ({
        id: life.id,
        lower: power(lower),
        lowerHigh: power(lowerHigh),
        upper: upper === null ? null : power(upper),
        upperHigh: upperHigh === null ? null : power(upperHigh),
        entry: power(entry),
      })),
    });
    const fit = fitLaw(sample, "exponential");
    if (fit.maximum !== "found") return null;
    const quantity = { kind: "survival", age: power(age) } as const;
    const { lower, upper } = lawBounds(fit, sample, quantity, confidence);
    return { shape, value: lawQuantity(fit, quantity), lower: lower ?? 0, upper: upper ?? 1 };
  });
  const found = readings.filter((reading) => reading !== null);
  const atOne = found.find(({ shape }) => shape === 1);
  if (!atOne) return null;
  return {
    value: atOne.value,
    lower: Math.min(...found.map(({ lower }) => lower)),
    upper: Math.max(...found.map(({ upper }) => upper)),
    confidence,
    method: "shapes 0.5 to 4",
    unit: "fraction",
  };
}
