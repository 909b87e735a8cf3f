import type { StandardLaw } from "./standardLaw.ts";

const six = new Float64Array(6);

/**
 * The w of given log P(W > w) and log P(W <= w) (both are given, for either may have lost the digits of the other).
 * Newton's method on the logarithm of the smaller tail, which is concave in w for these laws: past the root after one step,
 * then monotone towards it.
 *
 * Accuracy  1e-14 relative to max(1, |w|).
 */
export function standardQuantile(law: StandardLaw, logSurvival: number, logFailed: number, q: number): number {
  if (logFailed === Number.NEGATIVE_INFINITY) return Number.NEGATIVE_INFINITY;
  if (logSurvival === Number.NEGATIVE_INFINITY) return Number.POSITIVE_INFINITY;
  if (law.quantile) return law.quantile(logSurvival, logFailed);
  const isUpper = logSurvival <= logFailed;
  const target = isUpper ? logSurvival : logFailed;
  let w = 0;
  for (let iteration = 0; iteration < 500; iteration++) {
    if (isUpper) law.logSurvival(w, q, six);
    else law.logFailed(w, q, six);
    let step = (target - six[0]!) / six[1]!;
    const reach = 3 + 0.5 * Math.abs(w);
    if (!Number.isFinite(step)) step = isUpper ? -reach : reach;
    step = Math.max(-reach, Math.min(reach, step));
    w += step;
    if (Math.abs(step) <= 1e-14 * Math.max(1, Math.abs(w))) break;
  }
  return w;
}
