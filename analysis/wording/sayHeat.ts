import type { HeatOfWells, HeatVerdict } from "../study/decisionTypes.ts";
import type { FleetHeat } from "../study/fleetTypes.ts";
import { formatNumber } from "./formatNumber.ts";
import { formatTemperature } from "./formatTemperature.ts";
import { isCode, listOf, sentenceCase } from "./inWords.ts";

/** What an interval supposes where the next well's temperature was given; it stands before the advice, which holds under it alone. */
export function sayHeat({ wellC, modes }: Pick<HeatOfWells, "wellC" | "modes">): string {
  const following = modes.filter(({ verdict }) => verdict === "follows the heat");
  const there = formatTemperature(wellC);
  if (following.length === 0) return `No mode here is shown to follow the heat, so hours count alike at ${there}.`;
  const rest = following.length === modes.length ? "" : "; the other modes are not shown to";
  return `As if every hour were run at ${there}: ${listOf(following.map(nameOf))} ${following.length === 1 ? "follows" : "follow"} the heat${rest}.`;
}

/** Which modes of a board count their hours by heat. */
export function sayFleetHeat({ toolType, referenceC, modes }: FleetHeat, wellC: number | null = null): string {
  const unplanned = wellC === null ? "else as the wells so far" : `else at ${formatTemperature(wellC)}, as asked`;
  const following = modes.filter(({ verdict }) => verdict === "follows the heat");
  if (following.length === 0) return `${sentenceCase(toolType)}: no mode is shown to follow the heat of the wells.`;
  return `${sentenceCase(toolType)}: ${listOf(following.map(nameOf))} ${following.length === 1 ? "counts its" : "count their"} hours by heat, in hours at ${formatTemperature(referenceC)}; the next run at its planned temperature, ${unplanned}.`;
}

/** Whether a mode follows the heat, with the number it rests on. */
export function sayHeatVerdict({ verdict, adjustedPValue }: HeatVerdict): string {
  if (verdict === "under ten failures") return "not tested: under ten failures";
  if (verdict === "no maximum") return "not tested: no law fits";
  return `${verdict === "not shown" ? "not shown to" : "yes"}, p ${sayP(adjustedPValue ?? 1)}`;
}

const sayP = (p: number): string => (p < 0.001 ? "below 0.001" : formatNumber(p, 2));

const nameOf = ({ item, mode, defect }: HeatVerdict): string =>
  `${defect === null ? mode : `${defect} then ${mode}`} of ${isCode(item) ? item : `the ${item}`}`;
