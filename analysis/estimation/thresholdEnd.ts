import type { LawFound } from "./fitLaw.ts";
import type { LawLikelihood } from "./lawLikelihood.ts";
import { thresholdLimit } from "./lawSurface.ts";
import { atThreshold, moved, type ProfileOfThreshold } from "./searchThreshold.ts";
import type { LifeSample } from "./types.ts";

const STEP = 0.1;
/** Gaps beyond e^14 times that of the estimate, and below e^-24 of it, are not followed. */
const WIDEST = 14;
const NARROWEST = -24;

/**
 * The threshold at which the profile has dropped by `drop`, walking from the estimate on the scale log(first failure - threshold);
 * null where it does not drop that far: towards minus infinity it tends to the smallest extreme value law's likelihood, towards
 * the first failure it turns up again.
 */
export function thresholdEnd(
  likelihood: LawLikelihood,
  sample: LifeSample,
  fit: LawFound,
  side: 1 | -1,
  drop: number,
): number | null {
  const limit = thresholdLimit(sample);
  const cut = fit.logLikelihood - drop;
  const start = Math.log(limit - fit.theta[2]);
  let last: ProfileOfThreshold = { logGap: start, logLikelihood: fit.logLikelihood, theta: fit.theta };
  // A higher threshold is a smaller gap.
  for (let logGap = start - side * STEP; ; logGap -= side * STEP) {
    if (logGap - start > WIDEST || logGap - start < NARROWEST) return null;
    const next = atThreshold(likelihood, sample, logGap, limit, moved(last, limit, logGap));
    if (!next) return null;
    if (next.logLikelihood <= cut) return limit - Math.exp(crossing(last, next));
    if (side > 0 && next.logLikelihood > last.logLikelihood + 1e-9 && last.logLikelihood < fit.logLikelihood - 1e-6)
      return null;
    last = next;
  }

  /** Bisected and interpolated between a gap above the cut and one below it. */
  function crossing(above: ProfileOfThreshold, below: ProfileOfThreshold): number {
    let [inner, outer] = [above, below];
    for (let iteration = 0; iteration < 100; iteration++) {
      const share = (inner.logLikelihood - cut) / (inner.logLikelihood - outer.logLikelihood);
      const fraction = iteration % 3 === 2 ? 0.5 : Math.max(0.01, Math.min(0.99, share));
      const logGap = inner.logGap + fraction * (outer.logGap - inner.logGap);
      if (Math.abs(outer.logGap - inner.logGap) < 1e-13 * Math.max(1, Math.abs(logGap))) return logGap;
      const middle = atThreshold(likelihood, sample, logGap, limit, moved(inner, limit, logGap));
      if (!middle || Math.abs(middle.logLikelihood - cut) < 1e-12 * Math.max(1, Math.abs(cut))) return logGap;
      if (middle.logLikelihood > cut) inner = middle;
      else outer = middle;
    }
    return inner.logGap;
  }
}
