/** Late entry leaves few lives to follow at young ages; one failure there then moves the whole curve. */
export interface EarlySmallRiskSet {
  /** First and last failure seen while so few were followed. */
  readonly time: number;
  readonly lastTime: number;
  /** The fewest lives followed at one of those failures, and the survival the curve is left with after the last. */
  readonly atRisk: number;
  readonly survivalAfter: number;
  /** Ask for the curve again from this age on: it then says "of those that reach it". */
  readonly conditionFrom: number;
}

/** Fewer than this many at risk is "few" (common practice, no source). */
const few = 10;

/**
 * Finds failures seen while fewer than ten lives were followed, before the number followed at least doubled.
 * Where it finds any, the product-limit curve says more about those few than about the items.
 *
 * @param steps  The curve's steps, ascending, of a sample with late entries.
 * @returns      Null where there is no such step.
 * Source        Klein & Moeschberger (2003), Survival Analysis, 2nd ed., section 4.6: early risk sets emptied by late
 *               entry; they condition on survival to a later age. (From memory.)
 */
export function findEarlySmallRiskSet(
  steps: readonly { readonly time: number; readonly atRisk: number; readonly survival: number }[],
): EarlySmallRiskSet | null {
  let most = 0;
  let last = -1;
  for (let k = steps.length - 1; k >= 0; k -= 1) {
    const step = steps[k];
    if (step === undefined) continue;
    if (last < 0 && step.atRisk < few && most >= 2 * step.atRisk) last = k;
    most = Math.max(most, step.atRisk);
  }
  const early = steps.slice(0, last + 1).filter((step) => step.atRisk < few);
  const [first, final] = [early[0], early[early.length - 1]];
  if (first === undefined || final === undefined) return null;
  return {
    time: first.time,
    lastTime: final.time,
    atRisk: Math.min(...early.map((step) => step.atRisk)),
    survivalAfter: final.survival,
    conditionFrom: final.time,
  };
}
