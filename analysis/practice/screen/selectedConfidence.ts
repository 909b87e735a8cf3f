/**
 * Confidence of an interval that is shown because it was selected: among the selected, on average 1 - `confidence` of the
 * intervals miss. `falseCoverage` does the same where discovery and coverage are held at one level.
 *
 * Source  Benjamini & Yekutieli (2005), J. Amer. Statist. Assoc. 100, 71-81, definition 1: 1 - selected (1 - confidence) / tested.
 */
export const selectedConfidence = (confidence: number, selected: number, tested: number): number =>
  1 - ((1 - confidence) * selected) / tested;
