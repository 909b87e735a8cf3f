import type { WeibullParameters } from "../distributions/weibull.ts";
import type { ModeLaw } from "./redressModel.ts";
import { stopChance } from "./stopChance.ts";

/** Draws that the centre is found from; the factor moves by less than its own use can show with more. */
const LOOKED_AT = 60;
const STEPS = 12;

/**
 * Draws of a law moved together, by one factor on their scales, so that on average they stop as many jobs by an age as the
 * estimate does. What is not known of a rate is skewed to the high side (half a failure more at a count of none or one), which a
 * bound should show; summed over the modes of a fleet it would make every forecast too high.
 *
 * @param age  Hours at which redresses usually fall, > 0.
 */
export function centreDraws(law: ModeLaw, draws: readonly ModeLaw[], age: number): readonly ModeLaw[] {
  // Of a mode that has not failed yet the estimate says "never"; only the draws say more.
  if (law.kind === "hidden" || !Number.isFinite((law.kind === "linked" ? law.defect : law.life).scale)) return draws;
  const wanted = stopChance(law, { age: 0, cleanAt: 0 }, [age])[0]!;
  if (!(wanted > 0)) return draws;
  const few = draws.filter((_, place) => place % Math.max(1, Math.floor(draws.length / LOOKED_AT)) === 0);
  const chanceAt = (factor: number): number =>
    few.reduce((sum, one) => sum + stopChance(stretched(one, factor), { age: 0, cleanAt: 0 }, [age])[0]!, 0) /
    few.length;
  let [low, high] = [0.25, 4];
  for (let step = 0; step < STEPS; step++) {
    const middle = Math.sqrt(low * high);
    if (chanceAt(middle) > wanted) low = middle;
    else high = middle;
  }
  const factor = Math.sqrt(low * high);
  return draws.map((one) => stretched(one, factor));
}

function stretched(law: ModeLaw, factor: number): ModeLaw {
  const longer = ({ shape, scale }: WeibullParameters): WeibullParameters => ({ shape, scale: scale * factor });
  return law.kind === "linked" ? { ...law, defect: longer(law.defect) } : { ...law, life: longer(law.life) };
}
