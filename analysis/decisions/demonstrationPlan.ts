import { AnalysisError } from "../errors.ts";
import { successRunSize } from "../estimation/demonstration/successRun.ts";

/** So many runs, of which at most `failures` may be stopped, show what is asked. */
export interface DemonstrationPlan {
  readonly failures: number;
  readonly runs: number;
}

/**
 * Runs that show that the chance of a stopped run is at most `chance`, with a one-sided confidence, for up to `most` stopped
 * ones. A run longer than the one asked about counts for more where the risk rises with hours: under a Weibull shape b,
 * S(times * t) = S(t)^(times^b).
 *
 * @param times  Length of the runs in the plan over the length asked about, > 0.
 * @param shape  Weibull shape taken as known; 1 where times is 1 or nothing is known.
 * Errors        "bad-setting" for a chance or confidence outside (0, 1), or times or shape not above 0.
 * Source        Meeker & Escobar (1998), Statistical Methods for Reliability Data, section 10.6.
 */
export function demonstrationPlans(
  chance: number,
  confidence: number,
  { most = 2, times = 1, shape = 1 }: { readonly most?: number; readonly times?: number; readonly shape?: number } = {},
): DemonstrationPlan[] {
  for (const [setting, value] of [
    ["times", times],
    ["shape", shape],
  ] as const) {
    if (!(value > 0 && Number.isFinite(value)))
      throw new AnalysisError("bad-setting", { setting, value: String(value) });
  }
  const reliability = (1 - chance) ** (times ** shape);
  return Array.from({ length: most + 1 }, (_, failures) => ({
    failures,
    runs: successRunSize(reliability, confidence, failures),
  }));
}
