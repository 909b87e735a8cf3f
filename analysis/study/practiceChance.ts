import type { RedressPractice } from "./redressPractice.ts";

/** Width of the bins of hours in which the records tell how often a returned tool is redressed. */
const BIN = 50;

/**
 * Chance of a planned redress when a tool returns, by hours since the last one, as the records show it: redressed over
 * returned in bins of 50 h. A return after which the tool was redressed for a failure says nothing of the practice.
 */
export function practiceChance({ redresses }: Pick<RedressPractice, "redresses">): (hours: number) => number {
  const returned: number[] = [];
  const redressed: number[] = [];
  for (const { redress, returns } of redresses) {
    returns.forEach((hours, place) => {
      const last = place === returns.length - 1;
      if (last && redress.reason === "failure") return;
      const bin = Math.floor(hours / BIN);
      returned[bin] = (returned[bin] ?? 0) + 1;
      if (last) redressed[bin] = (redressed[bin] ?? 0) + 1;
    });
  }
  return (hours) => {
    for (let bin = Math.min(Math.floor(hours / BIN), returned.length - 1); bin >= 0; bin--)
      if ((returned[bin] ?? 0) > 0) return (redressed[bin] ?? 0) / returned[bin]!;
    return 0;
  };
}
