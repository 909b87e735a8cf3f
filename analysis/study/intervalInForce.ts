import type { RedressIntervalResult } from "./decisionTypes.ts";
import type { ShopData } from "./shopData.ts";

/** The newest decision that holds at the cut-off: of the item asked about, else of the whole tool. */
export function decidedInterval(
  { records, derived }: ShopData,
  toolType: string,
  item: string | null,
): RedressIntervalResult["decided"] {
  const holding = (records.decisions ?? [])
    .filter((row) => row.tool_type === toolType && row.dated_on <= derived.cutoff)
    .sort((a, b) => (a.dated_on < b.dated_on ? 1 : -1));
  const found = holding.find((row) => row.item === item) ?? holding.find((row) => row.item === "whole tool");
  return found === undefined
    ? null
    : { datedOn: found.dated_on, intervalH: found.interval_h ?? null, statement: found.statement };
}
