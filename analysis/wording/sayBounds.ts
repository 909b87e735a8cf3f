import type { BoundsChoice, BoundsUsed, ItemLifeResult } from "../study/types.ts";
import { formatBounds } from "./formatEstimate.ts";
import { formatExact, formatNumber } from "./formatNumber.ts";

/** Ways of having bounds, for a list to choose from. */
export const sayBoundsChoice: Readonly<Record<BoundsChoice, string>> = {
  "likelihood ratio": "likelihood ratio, lives as separate",
  "by serial": "by serial, whole tools drawn again",
  Wald: "Wald, quick and symmetric",
};

/** How the bounds of a life were had, and why so, in a sentence or two. */
export function sayBoundsUsed({ bounds, definition }: Pick<ItemLifeResult, "bounds" | "definition">): string {
  const sided = definition.sides === "lower" ? " Each is one-sided, a least value to claim." : "";
  return `${sayMethod(bounds)}${sided}`;
}

function sayMethod({ method, why, serialsAlike, bySerial }: BoundsUsed): string {
  if (method === "shape taken") return "Bounds: the middle part of what is believed after these lives.";
  if (method === "Wald") return "Bounds by Wald, from the curvature at the estimate; with few failures they mislead.";
  if (bySerial === null) {
    const alike =
      serialsAlike === null
        ? ""
        : ` The serials ${serialsAlike < 0.05 ? "do not all last alike" : "show no difference"} (p = ${formatNumber(serialsAlike)}).`;
    return `Bounds by likelihood ratio: every life counts as separate evidence.${alike}`;
  }
  const because =
    why === "tools differ" && serialsAlike !== null
      ? `, because the tools do not all last alike (p = ${formatNumber(serialsAlike)})`
      : "";
  const without =
    bySerial.withoutMaximum === 0
      ? ""
      : ` ${formatExact(bySerial.withoutMaximum)} of them settle no curve and are left out.`;
  return `Bounds by serial${because}: ${formatExact(bySerial.resamples)} times as many tools as there are (${formatExact(bySerial.serials)}) were drawn again, each with all its lives and inspections.${without} With lives as separate, one in ten would have failed by ${formatBounds(bySerial.b10IfSeparate)}.`;
}
