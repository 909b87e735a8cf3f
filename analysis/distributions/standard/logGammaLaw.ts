import { emptyExpQuotients, expQuotients } from "../../numerics/expQuotients.ts";
import { emptyGammaTails, gammaTailsByShape } from "../../numerics/gammaTailsByShape.ts";
import { digamma, logGamma, trigamma } from "../../numerics/index.ts";
import { stirlingRemainder } from "../../numerics/stirlingByShape.ts";
import { type StandardLaw, writeSix } from "./standardLaw.ts";

const HALF_LOG_TWO_PI = 0.5 * Math.log(2 * Math.PI);

/**
 * W = log G with G of the gamma law with shape a = e^q and scale 1: f(w) = exp(a w - e^w) / Gamma(a).
 * Derivatives by the shape are analytic: the series and continued fraction of the incomplete gamma function term by term.
 */
export const logGammaLaw: StandardLaw = {
  logDensity: (w, q, out) => densityOf(w, Math.exp(q), out),
  logSurvival: (w, q, out) => tailOf(w, q, "upper", out),
  logFailed: (w, q, out) => tailOf(w, q, "lower", out),
  tailsAt: (q) => ({ middle: q, length: Math.min(1, Math.exp(-0.5 * q)) }),
};

const quotients = emptyExpQuotients();
const tails = emptyGammaTails();
const six = new Float64Array(6);

function densityOf(w: number, a: number, out: Float64Array): void {
  const power = Math.exp(w);
  let value: number;
  if (a < 10) value = a * w - power - logGamma(a);
  else {
    // About the mode log a, where a w - e^w and log Gamma(a) are large and nearly equal.
    const u = w - Math.log(a);
    expQuotients(u, quotients);
    value = 0.5 * Math.log(a) - HALF_LOG_TWO_PI - stirlingRemainder(a) - a * u * u * quotients.second;
  }
  const byQ = a * (w - digamma(a));
  writeSix(out, value, a - power, byQ, -power, a, byQ - a * a * trigamma(a));
}

function tailOf(w: number, q: number, side: "lower" | "upper", out: Float64Array): void {
  const a = Math.exp(q);
  gammaTailsByShape(a, w, tails);
  densityOf(w, a, six);
  const isUpper = side === "upper";
  const value = isUpper ? tails.logUpper : tails.logLower;
  const byA = isUpper ? tails.upperSlope : tails.lowerSlope;
  const byAA = isUpper ? tails.upperBend : tails.lowerBend;
  const slope = (isUpper ? -1 : 1) * Math.exp(six[0]! - value);
  writeSix(out, value, slope, a * byA, slope * (six[1]! - slope), slope * (six[2]! - a * byA), a * byA + a * a * byAA);
}
