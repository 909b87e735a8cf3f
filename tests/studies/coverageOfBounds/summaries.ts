/** Means over cells, and which of them miss by more than they say. */
import { cells, looksIn, type Scheme } from "./schemes.ts";
import { type CellResult, cellResult, type SeedSet, type Tally } from "./tallies.ts";

export const methodNames = [
  "likelihood ratio",
  "Wald",
  "by serial, percentile",
  "by serial, bias-corrected",
  "prior 1 to 4",
  "fixed shape, right",
  "fixed shape, a quarter too high",
] as const;

/** Methods that ask nothing but the lives: among these the product chooses its default. */
export const freeMethods = methodNames.slice(0, 4);

export interface Share {
  readonly fleets: number;
  /** Share of fleets whose truth lies below the lower bound: the bound claims too much. */
  readonly below: number;
  /** Share whose truth lies above the upper bound. */
  readonly above: number;
  /** Monte Carlo standard error of the larger of the two. */
  readonly error: number;
}

/** Shares of several cells together; null where the method was not asked in any. */
export function shareOf(results: readonly CellResult[], tally: string): Share | null {
  const all = results.flatMap(({ tallies }): Tally[] => (tallies[tally] ? [tallies[tally]] : []));
  const fleets = all.reduce((sum, { used }) => sum + used, 0);
  if (fleets === 0) return null;
  const below = all.reduce((sum, one) => sum + one.below, 0) / fleets;
  const above = all.reduce((sum, one) => sum + one.above, 0) / fleets;
  const larger = Math.max(below, above, 1 / fleets);
  return { fleets, below, above, error: Math.sqrt((larger * (1 - larger)) / fleets) };
}

export const resultsOf = (set: SeedSet): CellResult[] => cells.flatMap((cell) => cellResult(set, cell) ?? []);

/** How a shop's failures come to be known. A shop's records end at a date, so a test ended by its failures is not among them. */
export const kinds = ["known age", "few looks", "many looks"] as const;
export type Kind = (typeof kinds)[number];

export const kindOf = (scheme: Scheme): Kind | null => {
  if (scheme === "failure-ended") return null;
  return looksIn[scheme] === 0 ? "known age" : looksIn[scheme] < 4 ? "few looks" : "many looks";
};

/** Cells that the product cannot tell apart: the shape is what is asked, and schemes of one kind look alike. */
export const alike = (results: readonly CellResult[], kind: Kind, spread: number, failures: number): CellResult[] =>
  results.filter(
    ({ cell }) => kindOf(cell.scheme) === kind && cell.spread === spread && cell.expectedFailures === failures,
  );
