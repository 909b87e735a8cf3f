import { weibull } from "../distributions/weibull.ts";
import type { GroupComparison } from "../estimation/groups/compareGroups.ts";
import type { RatioOfLives } from "../estimation/groups/ratioOfLives.ts";
import type { ComparedGroup, RatioEstimate } from "./partTypes.ts";

/** One side of a comparison as it is shown. */
export function comparedGroup(
  name: string,
  lives: number,
  group: GroupComparison["groups"][number] | undefined,
): ComparedGroup {
  const { shape = null, scale = null, failures = 0 } = group ?? {};
  const b10 = shape === null || scale === null ? null : weibull({ shape, scale }).quantile(0.1);
  return { name, lives, failures, shape, b10 };
}

export function ratioEstimate(ratio: RatioOfLives): RatioEstimate {
  if (ratio.maximum !== "found") return null;
  const { value, lower, upper, confidence } = ratio;
  return { value, lower, upper, confidence, method: "likelihood ratio", unit: "none" };
}
