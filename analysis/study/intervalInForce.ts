import type { Row } from "../records/descriptor.ts";
import type { RedressIntervalResult } from "./decisionTypes.ts";
import type { ShopData } from "./shopData.ts";

/** The newest decision that holds at the cut-off: of the item asked about, else of the whole tool. */
export function decidedInterval(
  { records, derived }: ShopData,
  toolType: string,
  item: string | null,
): RedressIntervalResult["decided"] {
  const found = decisionInForce(records.decisions ?? [], { toolType, item }, (day) => day <= derived.cutoff);
  return found === null
    ? null
    : { datedOn: found.dated_on, intervalH: found.interval_h ?? null, statement: found.statement };
}

/** The newest decision of such days: of the item, else of the whole tool. */
export function decisionInForce(
  decisions: readonly Row<"decisions">[],
  { toolType, item }: { readonly toolType: string; readonly item: string | null },
  ofDay: (day: string) => boolean,
): Row<"decisions"> | null {
  const holding = decisions
    .filter((row) => row.tool_type === toolType && ofDay(row.dated_on))
    .sort((a, b) => (a.dated_on < b.dated_on ? 1 : -1));
  return holding.find((row) => row.item === item) ?? holding.find((row) => row.item === "whole tool") ?? null;
}
