import type { Row } from "../records/descriptor.ts";
import type { CostUsed, DecisionSettings } from "./decisionTypes.ts";

export interface ShopCosts {
  /** Null where no cost is on record: all are then in planned redresses. */
  readonly currency: string | null;
  readonly planned: CostUsed;
  /** A failure that stops a job, the redress after it included. */
  readonly failure: CostUsed;
  readonly found: CostUsed;
  /** Recorded costs that could not be used because they are in another currency. */
  readonly otherCurrency: number;
}

/** A failure that stops a job costs so many planned redresses where nobody says. Common practice, no source. */
const ASSUMED_RATIO = 10;

/**
 * Costs of a tool type on a date: those asked with, else the newest on record that holds, else assumed.
 *
 * Conventions  A row for the tool type counts before one for `all`. A failure is "failure downhole" and "redress after
 *              failure" together, the latter a planned redress where it has no row. All in the currency of the newest cost of
 *              a planned redress, or else of the newest row.
 */
export function costsOfShop(
  rows: readonly Row<"costs">[],
  toolType: string,
  on: string,
  asked: DecisionSettings,
): ShopCosts {
  const holding = rows
    .filter(({ tool_type, dated_on }) => dated_on <= on && [toolType, "all"].includes(tool_type))
    .sort((a, b) => (a.dated_on < b.dated_on ? 1 : a.dated_on > b.dated_on ? -1 : 0));
  const currency = (holding.find(({ what }) => what === "planned redress") ?? holding[0])?.currency ?? null;
  const usable = holding.filter((row) => row.currency === currency);
  const find = (what: Row<"costs">["what"]): CostUsed | null => {
    const found =
      usable.find((row) => row.what === what && row.tool_type === toolType) ?? usable.find((row) => row.what === what);
    return found === undefined ? null : { amount: found.amount, source: "records", datedOn: found.dated_on };
  };
  const ask = (amount: number | null): CostUsed | null =>
    amount === null ? null : { amount, source: "asked", datedOn: null };
  const assume = (amount: number): CostUsed => ({ amount, source: "assumed", datedOn: null });
  const planned = ask(asked.plannedCost) ?? find("planned redress") ?? assume(1);
  const downhole = find("failure downhole");
  const after = find("redress after failure") ?? planned;
  return {
    currency,
    planned,
    failure:
      ask(asked.failureCost) ??
      (downhole === null
        ? assume(ASSUMED_RATIO * planned.amount)
        : { ...downhole, amount: downhole.amount + after.amount }),
    found: ask(asked.foundCost) ?? assume(0),
    otherCurrency: holding.length - usable.length,
  };
}
