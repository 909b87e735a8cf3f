import { binomialCdf } from "../../numerics/index.ts";
import { adjustPValues } from "../comparisons/adjustPValues.ts";

export interface LotRecord {
  readonly lot: string;
  readonly lives: number;
  readonly failures: number;
  /** Failures that lives as long as these have on average, over all lots. */
  readonly expected: number;
}

export interface LotVerdict extends LotRecord {
  /** Chance of so many failures or more in this lot, given how many there were in all. */
  readonly pValue: number;
  readonly screenedPValue: number;
  readonly isOnWatch: boolean;
}

/**
 * Lots whose failures are more than chance deals out: given all failures, those of one lot are binomial with the lot's share of
 * what was expected of all. One-sided and exact; Benjamini-Hochberg over all lots and modes together.
 *
 * @param groups  The lots of one item and mode each, so that shares are taken within it.
 * Conventions    A lot without a failure is tested too: leaving it out would make the others look rarer.
 * Cautions       What a lot shares with its season or its crew goes along with it.
 * Source         Conditional Poisson test: Przyborowski & Wilenski (1940), Biometrika 31, 313-323.
 */
export function lotsOnWatch(groups: readonly (readonly LotRecord[])[], rate: number): LotVerdict[][] {
  const pValues = groups.map((lots) => {
    const failures = lots.reduce((sum, lot) => sum + lot.failures, 0);
    const expected = lots.reduce((sum, lot) => sum + lot.expected, 0);
    return lots.map((lot) =>
      lot.failures === 0 || expected === 0 ? 1 : 1 - binomialCdf(lot.failures - 1, failures, lot.expected / expected),
    );
  });
  const adjusted = adjustPValues(pValues.flat(), "benjamini-hochberg");
  let place = 0;
  return groups.map((lots, group) =>
    lots.map((lot, index) => {
      const at = place++;
      return {
        ...lot,
        pValue: pValues[group]![index]!,
        screenedPValue: adjusted[at]!,
        isOnWatch: adjusted[at]! <= rate,
      };
    }),
  );
}
