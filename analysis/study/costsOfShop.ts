import type { Row } from "../records/descriptor.ts";
import { normalisePhrase } from "../records/normalisePhrase.ts";
import type { CostUsed, DecisionSettings } from "./decisionTypes.ts";

export interface ShopCosts {
  /** Null where no cost is on record: all are then in planned redresses. */
  readonly currency: string | null;
  readonly planned: CostUsed;
  readonly failureOf: (item: string, mode: string) => CostUsed;
  readonly foundOf: (item: string, mode: string) => CostUsed;
  /** Recorded costs that could not be used because they are in another currency. */
  readonly otherCurrency: number;
}

/** A failure that stops a job costs so many planned redresses where nobody says. Common practice, no source. */
export const ASSUMED_RATIO = 10;

/**
 * Costs of a tool type on a date: those asked with, else the newest on record that holds, else assumed.
 *
 * Conventions  `what` is "planned redress", "failure downhole" or "found in the shop", the last two also with an item, or
 *              item and mode, after a colon: "failure downhole: main seal, leak". The closer one counts; a row for the tool
 *              type counts before one for `all`. All in the currency of the newest cost of a planned redress, or else of
 *              the newest row.
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
  const currency = (holding.find(({ what }) => is(what, "planned redress")) ?? holding[0])?.currency ?? null;
  const usable = holding.filter((row) => row.currency === currency);
  const find = (...phrases: readonly string[]): CostUsed | null => {
    for (const phrase of phrases) {
      const found =
        usable.find((row) => is(row.what, phrase) && row.tool_type === toolType) ??
        usable.find((row) => is(row.what, phrase));
      if (found) return { amount: found.amount, source: "records", datedOn: found.dated_on };
    }
    return null;
  };
  const ask = (amount: number | null): CostUsed | null =>
    amount === null ? null : { amount, source: "asked", datedOn: null };
  const assume = (amount: number): CostUsed => ({ amount, source: "assumed", datedOn: null });
  const closest = (what: string, item: string, mode: string): CostUsed | null =>
    find(`${what}: ${item}, ${mode}`, `${what}: ${item}`, what);
  const planned = ask(asked.plannedCost) ?? find("planned redress") ?? assume(1);
  return {
    currency,
    planned,
    failureOf: (item, mode) =>
      ask(asked.failureCost) ?? closest("failure downhole", item, mode) ?? assume(ASSUMED_RATIO * planned.amount),
    foundOf: (item, mode) => ask(asked.foundCost) ?? closest("found in the shop", item, mode) ?? assume(0),
    otherCurrency: holding.length - usable.length,
  };
}

const is = (written: string, phrase: string): boolean => normalisePhrase(written) === normalisePhrase(phrase);
