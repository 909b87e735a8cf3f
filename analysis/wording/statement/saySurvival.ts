import type { StatementLife } from "../../statement/types.ts";
import { formatHours } from "../formatAge.ts";
import { countOf } from "../inWords.ts";
import { type Inline, say } from "./document.ts";
import { countFigure, estimateFigure } from "./figures.ts";

/** How many of an item are still good at the run length; nothing beyond the longest life followed. */
export function saySurvival(name: string, life: StatementLife): Inline {
  const { counts, survival, age, longestAge, result } = life;
  const hours = formatHours(age);
  if (counts.lives === 0)
    return say`${name}: not known, because none was followed from new or made up to an inspection.`;
  const rests = say`${countFigure(counts.failures, "failure", result)} among ${countFigure(counts.lives, "life", result, "lives")}`;
  if (survival === null)
    return say`${name}: not known at ${hours}. None was followed beyond ${{ text: formatHours(longestAge), value: longestAge, result }}, and nothing is claimed beyond it (${rests}).`;
  if (counts.failures === 0 && survival.lower !== null)
    return say`${name}: no failure among ${countFigure(counts.lives, "life", result, "lives")}; ${estimateFigure(survival, result)} still good at ${hours}.`;
  if (survival.value === null) return say`${name}: not known yet at ${hours} (${rests}).`;
  const few = counts.failures === 1 ? " One failure does not tell how the risk grows." : "";
  return say`${name}: ${estimateFigure(survival, result)} still good at ${hours}, from ${rests}.${few}`;
}

/** What lives are left out of that, in words; null where none is. */
export function sayLivesLeftOut({ counts }: StatementLife): string | null {
  const parts = [
    counts.noInformation > 0 ? `${countOf(counts.noInformation, "life", "lives")} not looked at yet` : null,
    counts.excluded > 0 ? `${countOf(counts.excluded, "life", "lives")} excluded` : null,
  ].filter((part) => part !== null);
  return parts.length === 0 ? null : parts.join(", ");
}
