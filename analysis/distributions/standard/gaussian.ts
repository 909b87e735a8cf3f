import { scaledErrorComplement } from "../../numerics/normalTail.ts";
import { type StandardLaw, writeSix } from "./standardLaw.ts";

const HALF_LOG_TWO_PI = 0.5 * Math.log(2 * Math.PI);

/** log P(W > w) with its first and second derivative; sign -1 turns the derivative into that of P(W <= -w). */
function tail(w: number, sign: 1 | -1, out: Float64Array): void {
  const scaled = scaledErrorComplement(Math.abs(w) * Math.SQRT1_2);
  const logTail = Math.log(0.5 * scaled) - 0.5 * w * w;
  const value = w >= 0 ? logTail : Math.log1p(-Math.exp(logTail));
  const hazard = w >= 0 ? Math.sqrt(2 / Math.PI) / scaled : Math.exp(-0.5 * w * w - HALF_LOG_TWO_PI - value);
  // hazard (hazard - w) tends to 1 in the far tail, by a series where the difference would lose digits.
  const bend = w > 1e4 ? -1 + 1 / (w * w) : -hazard * (hazard - w);
  writeSix(out, value, -sign * hazard, 0, bend, 0, 0);
}

/** Standard normal. */
export const gaussian: StandardLaw = {
  logDensity: (w, _, out) => writeSix(out, -0.5 * w * w - HALF_LOG_TWO_PI, -w, 0, -1, 0, 0),
  logSurvival: (w, _, out) => tail(w, 1, out),
  logFailed: (w, _, out) => tail(-w, -1, out),
};
