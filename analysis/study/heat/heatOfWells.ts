import type { HeatOfWells, HeatVerdict } from "../decisionTypes.ts";
import type { FittedMode } from "../fitModes.ts";
import type { Notice } from "../types.ts";
import { atTemperature } from "./atTemperature.ts";
import type { HeatMode, HeatModes } from "./heatModes.ts";

/** Temperatures between those seen at which the limits are told. */
const STEPS = 5;

/** The modes of a decision as they would be at a temperature (degC), in their order. */
export const countedAt = (heat: HeatModes, counted: readonly FittedMode[], celsius: number): FittedMode[] =>
  counted.map((plain) => {
    const own = heat.modes.find((mode) => mode.plain === plain);
    return own === undefined ? plain : atTemperature(own, heat, celsius);
  });

/** Which of the counted modes follow the heat, and the limits at temperatures from the coolest to the hottest usual well. */
export function heatOfWells(
  heat: HeatModes,
  counted: readonly FittedMode[],
  wellC: number,
  limitsOf: (counted: readonly FittedMode[]) => Omit<HeatOfWells["byTemperature"][number], "celsius">,
): HeatOfWells {
  const { referenceC, lowC, highC, writtenShare } = heat.wells;
  const own = heat.modes.filter(({ plain }) => counted.includes(plain));
  const temperatures = Array.from({ length: STEPS }, (_, step) => lowC + ((highC - lowC) * step) / (STEPS - 1));
  return {
    wellC,
    referenceC,
    lowC,
    highC,
    writtenShare,
    modes: own.map((mode) => heatVerdict(mode, heat)),
    byTemperature: own.every((mode) => mode.heat === null)
      ? []
      : temperatures.map((celsius) => ({ celsius, ...limitsOf(countedAt(heat, counted, celsius)) })),
  };
}

export function heatVerdict(
  { plain, profile, untested, adjustedPValue, heat }: HeatMode,
  { confidence }: Pick<HeatModes, "confidence">,
): HeatVerdict {
  return {
    item: plain.item,
    mode: plain.mode.mode,
    defect: plain.defect?.mode ?? null,
    failures: plain.failures,
    energy:
      profile === null
        ? { value: null, lower: null, upper: null, confidence, method: "none", unit: "kJ/mol", why: "no maximum" }
        : {
            value: profile.energy / 1000,
            lower: profile.lower / 1000,
            upper: profile.upper === null ? null : profile.upper / 1000,
            confidence,
            method: "likelihood ratio",
            unit: "kJ/mol",
          },
    adjustedPValue,
    verdict: untested ?? (heat === null ? "not shown" : "follows the heat"),
  };
}

/** A temperature asked about that the records cannot speak of, and one at or beyond the ends of those usually seen. */
export function heatNotices(wellC: number | null, heat: HeatOfWells | null): Notice[] {
  if (wellC === null) return [];
  if (heat === null) return [{ code: "heat-not-written", facts: {} }];
  const { lowC, highC } = heat;
  return wellC < lowC || wellC > highC
    ? [{ code: "heat-beyond-seen", facts: { well: wellC, low: lowC, high: highC } }]
    : [];
}
