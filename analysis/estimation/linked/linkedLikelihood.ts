import { gaussLegendre } from "../../numerics/index.ts";
import { doubleExponential, type EndpointRule } from "./doubleExponential.ts";
import type { LinkedHistory } from "./types.ts";

/**
 * Value, gradient and Hessian by theta = (log shape, log scale) of the defect, then of the delay. Packed as 15 numbers:
 * [0] value, [1..4] gradient, [5..14] upper triangle of the Hessian by rows.
 */
export type Jet = Float64Array;
export const JET = 15;
/** Place of the Hessian's (row, column), row <= column. */
export const hessianAt = (row: number, column: number): number => 5 + row * 4 - (row * (row - 1)) / 2 + column - row;

/** For the pieces at the ends, 41 nodes: relative error about 1e-9 on smooth integrands, 1e-7 with singular ends. */
const rule: EndpointRule = doubleExponential(0.155, 3.1);
/** For the pieces between, smooth: 16 nodes. */
const middle: EndpointRule = gaussRule(16);

function gaussRule(count: number): EndpointRule {
  const { nodes, weights } = gaussLegendre(count);
  return { fromLeft: nodes, fromRight: nodes.map((node) => 1 - node), weight: weights };
}

/**
 * Log likelihood of sound-defective-failed histories:
 *   failure at t              integral of f_D(u) f_H(t - u) du over the defect's interval, u < t
 *   not failed by c           P(D in (a, b], L > c) = S_D(max(a, c)) - S_D(b) + integral of f_D(u) S_H(c - u) du, u < c
 *   failed in (c, e]          the difference of two of these
 * divided by S_D(entry) where the item entered in mid-life. That a look happened because of the failure costs nothing
 * here: given both ages, when one looked tells nothing more.
 * Source  Christer (1982), Proc. delay-time models, J. Oper. Res. Soc. 33, for the model; likelihood worked out here.
 */
export function linkedLikelihood(histories: readonly LinkedHistory[], theta: Float64Array): Jet {
  const laws = { defect: lawAt(theta[0]!, theta[1]!), delay: lawAt(theta[2]!, theta[3]!) };
  const total = new Float64Array(JET);
  for (const history of histories) {
    const part = contribution(history, laws);
    addLog(total, part, 1);
    if (!(total[0]! > Number.NEGATIVE_INFINITY)) return total;
    if (history.entry > 0) addLog(total, survivalOfDefect(history.entry, laws.defect), -1);
  }
  return total;
}

interface Law {
  readonly shape: number;
  readonly logShape: number;
  readonly logScale: number;
}
interface Laws {
  readonly defect: Law;
  readonly delay: Law;
}
const lawAt = (logShape: number, logScale: number): Law => ({ shape: Math.exp(logShape), logShape, logScale });

function contribution({ defect, failure }: LinkedHistory, laws: Laws): Jet {
  const { from, to } = defect;
  if (failure.to !== null && failure.from === failure.to) return failedAt(from, to, failure.to, laws);
  const open = notFailedBy(from, to, failure.from, laws);
  if (failure.to === null) return open;
  const later = notFailedBy(from, to, failure.to, laws);
  for (let i = 0; i < JET; i++) open[i]! -= later[i]!;
  return open;
}

function failedAt(a: number, b: number | null, t: number, laws: Laws): Jet {
  const jet = new Float64Array(JET);
  if (a === b) {
    addProduct(jet, a, t - a, 1, laws, false);
    return jet;
  }
  integrate(jet, a, Math.min(b ?? t, t), t, laws, false);
  return jet;
}

function notFailedBy(a: number, b: number | null, c: number, laws: Laws): Jet {
  const jet = new Float64Array(JET);
  if (a === b) {
    if (a >= c) addDensity(jet, a, laws.defect);
    else addProduct(jet, a, c - a, 1, laws, true);
    return jet;
  }
  if (b === null || b > c) {
    addSurvival(jet, Math.max(a, c), 1, laws.defect);
    if (b !== null) addSurvival(jet, b, -1, laws.defect);
  }
  if (a < c) integrate(jet, a, Math.min(b ?? c, c), c, laws, true);
  return jet;
}

/**
 * Adds the integral over u in (a, b) of f_D(u) times f_H(t - u), or S_H(t - u) where `survives`. A steep or short law puts
 * its mass into a narrow part of a wide interval: the interval is cut there, so that no rule steps over it.
 */
function integrate(jet: Jet, a: number, b: number, t: number, laws: Laws, survives: boolean): void {
  if (!(b > a)) return;
  const cuts = [a, b];
  const delayNarrow = laws.delay.shape > 2 || ageAt(laws.delay, 14) < (t - a) / 2;
  const defectNarrow = laws.defect.shape > 3 || ageAt(laws.defect, 14) < b / 2;
  for (const hazard of STEEP) {
    if (delayNarrow) cuts.push(t - ageAt(laws.delay, hazard));
    if (defectNarrow) cuts.push(ageAt(laws.defect, hazard));
  }
  const inside = cuts.filter((u) => u >= a && u <= b).sort((x, y) => x - y);
  for (let k = 1; k < inside.length; k++) {
    const [from, to] = [inside[k - 1]!, inside[k]!];
    // Only the two ends can be singular; in between a short rule is exact enough.
    piece(jet, from, to, t, laws, survives, k === 1 || k === inside.length - 1 ? rule : middle);
  }
}

function piece(jet: Jet, a: number, b: number, t: number, laws: Laws, survives: boolean, by: EndpointRule): void {
  const width = b - a;
  const beyond = t - b;
  if (!(width > 0)) return;
  for (let k = 0; k < by.weight.length; k++) {
    addProduct(
      jet,
      a + width * by.fromLeft[k]!,
      beyond + width * by.fromRight[k]!,
      width * by.weight[k]!,
      laws,
      survives,
    );
  }
}

/** Cumulative hazards between which a steep law has all but a millionth of its mass: where it begins, peaks and ends. */
const STEEP = [1e-6, 0.05, Math.LN2, 3, 14];
const ageAt = ({ shape, logScale }: Law, cumulativeHazard: number): number =>
  Math.exp(logScale + Math.log(cumulativeHazard) / shape);

const d = new Float64Array(6);
const h = new Float64Array(6);

/** Adds weight x f_D(u) x (f_H or S_H)(v) with its derivatives. */
function addProduct(jet: Jet, u: number, v: number, weight: number, laws: Laws, survives: boolean): void {
  if (!(u > 0)) return;
  logDensity(d, u, laws.defect);
  if (survives) logSurvival(h, v, laws.delay);
  else if (v > 0) logDensity(h, v, laws.delay);
  else return;
  const value = weight * Math.exp(d[0]! + h[0]!);
  if (!(value > 0)) return;
  const [d1, d2, h1, h2] = [d[1]!, d[2]!, h[1]!, h[2]!];
  jet[0]! += value;
  jet[1]! += value * d1;
  jet[2]! += value * d2;
  jet[3]! += value * h1;
  jet[4]! += value * h2;
  jet[5]! += value * (d[3]! + d1 * d1);
  jet[6]! += value * (d[4]! + d1 * d2);
  jet[7]! += value * d1 * h1;
  jet[8]! += value * d1 * h2;
  jet[9]! += value * (d[5]! + d2 * d2);
  jet[10]! += value * d2 * h1;
  jet[11]! += value * d2 * h2;
  jet[12]! += value * (h[3]! + h1 * h1);
  jet[13]! += value * (h[4]! + h1 * h2);
  jet[14]! += value * (h[5]! + h2 * h2);
}

function addDensity(jet: Jet, u: number, law: Law): void {
  logDensity(d, u, law);
  addDefectTerm(jet, Math.exp(d[0]!));
}

function addSurvival(jet: Jet, u: number, sign: number, law: Law): void {
  if (u <= 0) {
    jet[0]! += sign;
    return;
  }
  logSurvival(d, u, law);
  addDefectTerm(jet, sign * Math.exp(d[0]!));
}

function addDefectTerm(jet: Jet, value: number): void {
  jet[0]! += value;
  jet[1]! += value * d[1]!;
  jet[2]! += value * d[2]!;
  jet[5]! += value * (d[3]! + d[1]! * d[1]!);
  jet[6]! += value * (d[4]! + d[1]! * d[2]!);
  jet[9]! += value * (d[5]! + d[2]! * d[2]!);
}

function survivalOfDefect(age: number, law: Law): Jet {
  const jet = new Float64Array(JET);
  addSurvival(jet, age, 1, law);
  return jet;
}

/** Adds sign x log of a positive quantity with its derivatives. */
function addLog(total: Jet, part: Jet, sign: number): void {
  const value = part[0]!;
  if (!(value > 0)) {
    total[0] = Number.NEGATIVE_INFINITY;
    return;
  }
  total[0]! += sign * Math.log(value);
  for (let i = 0; i < 4; i++) {
    const gi = part[1 + i]! / value;
    total[1 + i]! += sign * gi;
    for (let j = i; j < 4; j++) {
      const place = hessianAt(i, j);
      total[place]! += sign * (part[place]! / value - gi * (part[1 + j]! / value));
    }
  }
}

/** log f, its derivatives by (log shape, log scale), and second derivatives (11, 12, 22), into `out`. */
function logDensity(out: Float64Array, x: number, { shape, logShape, logScale }: Law): void {
  const logX = Math.log(x);
  const z = shape * (logX - logScale);
  const e = Math.exp(z);
  out[0] = logShape - logX + z - e;
  out[1] = 1 + z - z * e;
  out[2] = shape * (e - 1);
  out[3] = z - z * e - z * z * e;
  out[4] = shape * (e - 1 + z * e);
  out[5] = -shape * shape * e;
}

function logSurvival(out: Float64Array, x: number, { shape, logScale }: Law): void {
  if (x <= 0) {
    out.fill(0);
    return;
  }
  const z = shape * (Math.log(x) - logScale);
  const e = Math.exp(z);
  out[0] = -e;
  out[1] = -z * e;
  out[2] = shape * e;
  out[3] = -(z + z * z) * e;
  out[4] = shape * (1 + z) * e;
  out[5] = -shape * shape * e;
}
