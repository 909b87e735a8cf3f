import { logComplement } from "../../numerics/index.ts";
import { type StandardLaw, writeSix } from "./standardLaw.ts";

/** Smallest extreme value: P(W > w) = exp(-e^w). Source: Lawless (2003), section 1.3.2. */
export const extremeValue: StandardLaw = {
  logDensity: (w, _, out) => {
    const hazard = Math.exp(w);
    writeSix(out, w - hazard, 1 - hazard, 0, -hazard, 0, 0);
  },
  logSurvival: (w, _, out) => {
    const hazard = Math.exp(w);
    writeSix(out, -hazard, -hazard, 0, -hazard, 0, 0);
  },
  logFailed: (w, _, out) => {
    const hazard = Math.exp(w);
    if (hazard < 1e-290) return writeSix(out, w, 1, 0, 0, 0, 0);
    // H / (e^H - 1)
    const slope = hazard > 700 ? 0 : hazard / Math.expm1(hazard);
    writeSix(out, logComplement(-hazard), slope, 0, slope * (1 - hazard - slope), 0, 0);
  },
  quantile: (logSurvival, logFailed) => (logFailed < -700 ? logFailed : Math.log(-logSurvival)),
};
