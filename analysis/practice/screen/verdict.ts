/** What a reader may take from a comparison. */
export type Verdict =
  | "shorter life"
  | "longer life"
  | "no difference shown yet"
  /** The practice hardly ever varied on its own: its effect and that of what goes along with it cannot be separated. */
  | "cannot tell"
  | "too few failures";

/** Share of a practice's spread that must be its own: less, and one failure here or there turns the answer round. */
export const LEAST_SHARE_LEFT = 0.15;
/** Failures below which a likelihood ratio is no test (measured on simulated shops: 2.4 % of null tests below 1 %). */
export const FEWEST_FAILURES = 10;

/** @param claimed  By the whole screen's false discovery rate. */
export function verdictOf({
  failures,
  shareLeft,
  value,
  claimed,
}: {
  readonly failures: number;
  readonly shareLeft: number;
  readonly value: number | null;
  readonly claimed: boolean;
}): Verdict {
  if (failures < FEWEST_FAILURES) return "too few failures";
  if (shareLeft < LEAST_SHARE_LEFT || value === null) return "cannot tell";
  if (!claimed) return "no difference shown yet";
  return value < 1 ? "shorter life" : "longer life";
}
