import type { StatementResult } from "../../statement/types.ts";
import { comparePeriods } from "../comparePeriods.ts";
import { sayPeriods } from "../sayFinding.ts";
import { type Inline, say } from "./document.ts";

/** What the half-years show: as a heading, and as a sentence where a difference is shown. Each says which count this is. */
export function sayHalfYears({ periods }: Pick<StatementResult, "periods">): {
  readonly finding: string;
  readonly difference: Inline | null;
} {
  const title = "Items found failed per 1,000 h by half-year";
  const compared = comparePeriods(periods);
  if (compared === null) return { finding: title, difference: null };
  const words = sayPeriods(compared);
  return {
    finding: `${title}: ${words}`,
    difference:
      compared.rather === null
        ? null
        : say`By the calendar, items found failed per 1,000 h: ${words}. That is another count: an item found failed at an inspection need not have ended a run.`,
  };
}
