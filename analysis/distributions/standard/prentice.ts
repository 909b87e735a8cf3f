import { emptyExpQuotients, expQuotients } from "../../numerics/expQuotients.ts";
import { emptyGammaTails, gammaTailsByShape } from "../../numerics/gammaTailsByShape.ts";
import { gaussLegendre, logComplement } from "../../numerics/index.ts";
import { stirlingByQ } from "../../numerics/stirlingByShape.ts";
import { type StandardLaw, writeSix } from "./standardLaw.ts";

const HALF_LOG_TWO_PI = 0.5 * Math.log(2 * Math.PI);

/**
 * W = log(Q^2 G) / Q with G of the gamma law with shape 1/Q^2 and scale 1; standard normal at Q = 0, smallest extreme value at
 * Q = 1, largest at Q = -1. Written so that Q = 0 is an ordinary point:
 *
 *   log f(w) = -log(2 pi)/2 - s(1/Q^2) - (e^{Qw} - 1 - Qw) / Q^2,    s Stirling's remainder
 *
 * All derivatives are analytic. The tails are incomplete gamma functions for |Q| > 0.3, differentiated by their shape term by
 * term; within, integrals of the density and of its derivatives by quadrature, for there the shape 1/Q^2 runs away.
 * Source  Prentice (1974), Biometrika 61, 539-544; Lawless (2003), section 1.3.5.
 */
export const prentice: StandardLaw = {
  logDensity: density,
  logSurvival: (w, q, out) => tail(w, q, "above", out),
  logFailed: (w, q, out) => tail(w, q, "below", out),
  tailsAt: (q) => ({ middle: 0, length: 1 / Math.max(1, Math.abs(q)) }),
};

const NEAR_NORMAL = 0.3;
const quotients = emptyExpQuotients();
const tails = emptyGammaTails();
const remainder = new Float64Array(3);
const six = new Float64Array(6);
let remainderAt = Number.NaN;

function remainderOf(q: number): Float64Array {
  if (q !== remainderAt) {
    stirlingByQ(q, remainder);
    remainderAt = q;
  }
  return remainder;
}

function density(w: number, q: number, out: Float64Array): void {
  const stirling = remainderOf(q);
  expQuotients(q * w, quotients);
  const square = w * w;
  writeSix(
    out,
    -HALF_LOG_TWO_PI - stirling[0]! - square * quotients.second,
    -w * quotients.first,
    -stirling[1]! - square * w * quotients.secondSlope,
    -quotients.exp,
    -square * quotients.firstSlope,
    -stirling[2]! - square * square * quotients.secondBend,
  );
}

function tail(w: number, q: number, side: "above" | "below", out: Float64Array): void {
  if (Math.abs(q) <= NEAR_NORMAL) {
    // The tail away from the mode at 0 is integrated; the other is its complement.
    const isNear = w >= 0 === (side === "above");
    integrated(w, q, w >= 0 ? 1 : -1, out);
    if (!isNear) complement(out);
    return;
  }
  const a = 1 / (q * q);
  const isUpper = q > 0 === (side === "above");
  gammaTailsByShape(a, Math.log(a) + q * w, tails);
  density(w, q, six);
  const value = isUpper ? tails.logUpper : tails.logLower;
  const byA = isUpper ? tails.upperSlope : tails.lowerSlope;
  const byAA = isUpper ? tails.upperBend : tails.lowerBend;
  const slope = (side === "above" ? -1 : 1) * Math.exp(six[0]! - value);
  // By Q at fixed w: v = log a + Q w and a = 1/Q^2 both move. d/dv = slope / Q.
  const byV = slope / q;
  const logDensityOfV = six[1]! / q;
  const byVV = byV * (logDensityOfV - byV);
  // log f_V = a v - e^v - log Gamma(a), so d log f_V / da = (d log f_W / dQ - 1/Q - v_Q d/dv log f_V) / a_Q.
  const vByQ = w - 2 / q;
  const aByQ = (-2 * a) / q;
  const densityByA = (six[2]! - 1 / q - vByQ * logDensityOfV) / aByQ;
  const byVA = byV * (densityByA - byA);
  const byQ = byV * vByQ + byA * aByQ;
  const byQQ = byVV * vByQ * vByQ + 2 * byVA * vByQ * aByQ + byAA * aByQ * aByQ + byV * 2 * a + byA * 6 * a * a;
  writeSix(out, value, slope, byQ, slope * (six[1]! - slope), slope * (six[2]! - byQ), byQQ);
}

/** The density has fallen by e^-44 at the end of the integral. */
const DEPTH = 44;
const PANELS = 3;

/** log P(W > w) (side 1, w >= 0) or log P(W <= w) (side -1, w < 0), with its derivatives. */
function integrated(w: number, q: number, side: 1 | -1, out: Float64Array): void {
  density(w, q, six);
  const top = six[0]!;
  const topSlope = six[1]!;
  const topByQ = six[2]!;
  const drop = (length: number): number => {
    density(w + side * length, q, six);
    return top - six[0]!;
  };
  let length = Math.sqrt(w * w + 2 * DEPTH) - Math.abs(w);
  while (drop(length) < DEPTH) length *= 1.25;
  while (drop(0.7 * length) > DEPTH) length *= 0.7;
  const { nodes, weights } = gaussLegendre(18);
  let sum = 0;
  let byQ = 0;
  let byQQ = 0;
  for (let panel = 0; panel < PANELS; panel++) {
    // Panels grow outwards: the density falls fastest, relative to what it adds, near w.
    const from = (length * panel * (panel + 1)) / (PANELS * (PANELS + 1));
    const size = (2 * length * (panel + 1)) / (PANELS * (PANELS + 1));
    for (let i = 0; i < nodes.length; i++) {
      density(w + side * (from + size * nodes[i]!), q, six);
      const mass = size * weights[i]! * Math.exp(six[0]! - top);
      sum += mass;
      byQ += mass * six[2]!;
      byQQ += mass * (six[5]! + six[2]! * six[2]!);
    }
  }
  const first = byQ / sum;
  const slope = -side / sum;
  writeSix(
    out,
    top + Math.log(sum),
    slope,
    first,
    slope * (topSlope - slope),
    slope * (topByQ - first),
    byQQ / sum - first * first,
  );
}

/** From log P with its derivatives to log(1 - P) with its own. */
function complement(out: Float64Array): void {
  const [known = 0, w = 0, q = 0, ww = 0, wq = 0, qq = 0] = out;
  const other = logComplement(known);
  const ratio = Math.exp(known - other);
  const byW = -ratio * w;
  const byQ = -ratio * q;
  writeSix(
    out,
    other,
    byW,
    byQ,
    -ratio * (ww + w * w) - byW * byW,
    -ratio * (wq + w * q) - byW * byQ,
    -ratio * (qq + q * q) - byQ * byQ,
  );
}
