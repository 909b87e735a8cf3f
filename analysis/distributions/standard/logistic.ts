import { type StandardLaw, writeSix } from "./standardLaw.ts";

/** log(1 + e^x) without overflow. */
const softPlus = (x: number): number => (x > 0 ? x + Math.log1p(Math.exp(-x)) : Math.log1p(Math.exp(x)));
const rising = (w: number): number => (w >= 0 ? 1 / (1 + Math.exp(-w)) : Math.exp(w) / (1 + Math.exp(w)));

/** Logistic: P(W > w) = 1 / (1 + e^w). Source: Lawless (2003), section 1.3.4. */
export const logistic: StandardLaw = {
  logDensity: (w, _, out) => {
    const failed = rising(w);
    const sound = rising(-w);
    writeSix(out, -softPlus(w) - softPlus(-w), sound - failed, 0, -2 * failed * sound, 0, 0);
  },
  logSurvival: (w, _, out) => {
    const failed = rising(w);
    writeSix(out, -softPlus(w), -failed, 0, -failed * rising(-w), 0, 0);
  },
  logFailed: (w, _, out) => {
    const sound = rising(-w);
    writeSix(out, -softPlus(-w), sound, 0, -sound * rising(w), 0, 0);
  },
  quantile: (logSurvival, logFailed) => logFailed - logSurvival,
};
