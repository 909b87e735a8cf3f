/**
 * Benjamini-Hochberg over a whole screen.
 *
 * @param pValues  One a comparison that was tested.
 * @param rate     Share of the claims that may be false on average; under "no effect at all", the chance of any claim.
 * @returns        `adjusted` p-values in the order given, and which are claimed.
 * Source          Benjamini & Hochberg (1995), J. R. Statist. Soc. B 57, 289-300.
 */
export function falseDiscovery(
  pValues: readonly number[],
  rate: number,
): { readonly adjusted: readonly number[]; readonly claimed: readonly boolean[] } {
  const m = pValues.length;
  const order = pValues.map((_, index) => index).sort((a, b) => pValues[a]! - pValues[b]!);
  const adjusted = new Array<number>(m).fill(1);
  let least = 1;
  for (let rank = m; rank >= 1; rank--) {
    const index = order[rank - 1]!;
    least = Math.min(least, (pValues[index]! * m) / rank);
    adjusted[index] = least;
  }
  return { adjusted, claimed: adjusted.map((value) => value <= rate) };
}

/**
 * Confidence of an interval that is shown because it was selected: among the selected, on average 1 - `confidence` of the
 * intervals miss.
 * Source  Benjamini & Yekutieli (2005), J. Amer. Statist. Assoc. 100, 71-81: 1 - selected (1 - confidence) / tested.
 */
export const selectedConfidence = (confidence: number, selected: number, tested: number): number =>
  1 - ((1 - confidence) * selected) / tested;
