import type { ModeLaw } from "../../decisions/redressModel.ts";
import type { WeibullParameters } from "../../distributions/weibull.ts";
import type { FittedMode } from "../fitModes.ts";
import type { HeatLaw } from "./fitHeat.ts";
import type { HeatMode, HeatModes } from "./heatModes.ts";

/**
 * A mode as it would be were every hour run at one temperature: its laws in hours there. A mode without heat stays as it is.
 *
 * @param celsius  degC.
 */
export function atTemperature({ plain, heat }: HeatMode, { rate }: HeatModes, celsius: number): FittedMode {
  if (heat === null) return plain;
  const there = ({ energy, law }: HeatLaw): ModeLaw => slowed(law, rate(energy).at(celsius));
  return {
    ...plain,
    law: there(heat.best),
    draws: heat.draws.map(there),
    longestAge: heat.longestAge / rate(heat.best.energy).at(celsius),
  };
}

/** A law in hours of which each counts for `times` hours of the law's own clock. */
function slowed(law: ModeLaw, times: number): ModeLaw {
  const own = ({ shape, scale }: WeibullParameters): WeibullParameters => ({ shape, scale: scale / times });
  return law.kind === "linked"
    ? { kind: "linked", defect: own(law.defect), delay: own(law.delay) }
    : { kind: law.kind, life: own(law.life) };
}
