import { digamma, logGamma, trigamma } from "../../numerics/index.ts";
import { intervalTerm } from "../common/intervalTerm.ts";
import { addOuter, type Jet, jet } from "../common/jet.ts";
import { LOG_SHAPE, LOG_VARIANCE } from "./frailtyPlaces.ts";

/** A life found failed between two ages: logs of its cumulative hazards there (u = 1) with their derivatives. */
export interface FrailtyInterval {
  readonly count: number;
  /** -Infinity for an interval from age 0. */
  readonly lower: number;
  readonly upper: number;
  readonly byLower: Float64Array;
  readonly byUpper: Float64Array;
}

/** Step of the trapezoidal rule in standard deviations at the peak, and the fall of the logarithm at which it ends. */
const STEP = 0.3;
const DEPTH = 42;

/**
 * Adds the logarithm of the integral over a tool's frailty u = e^v,
 *   r^r / Gamma(r) times the integral of exp[(r + d) v - e^v (r + G) + sum count log(e^-uA - e^-uB)] dv,
 * with its derivatives. The exponent is concave in v: one peak, and the trapezoidal rule about it converges beyond every power.
 *
 * @param used   G, the sum of cumulative hazards of the lives not found between looks, with its derivatives.
 * @returns      Mean of u given the tool's lives.
 * Source        Trefethen & Weideman (2014), SIAM Review 56, 385-458, for the rule.
 */
export function logFrailtyIntegral(
  r: number,
  d: number,
  used: Jet,
  intervals: readonly FrailtyInterval[],
  total: Jet,
): number {
  const m = used.gradient.length;
  const six = new Float64Array(6);
  const level = r + used.value;
  /** Exponent with its first two derivatives by v. */
  const exponent = (v: number): readonly [number, number, number] => {
    const u = Math.exp(v);
    let [value, slope, bend] = [(r + d) * v - u * level, r + d - u * level, -u * level];
    for (const { count, lower, upper } of intervals) {
      intervalTerm(v + lower, v + upper, six);
      value += count * six[0]!;
      slope += count * (six[1]! + six[2]!);
      bend += count * (six[3]! + 2 * six[4]! + six[5]!);
    }
    return [value, slope, bend];
  };

  let peak = 0;
  for (let iteration = 0; iteration < 100; iteration++) {
    const [, slope, bend] = exponent(peak);
    const step = Math.max(-3, Math.min(3, -slope / bend));
    peak += step;
    if (Math.abs(step) < 1e-10) break;
  }
  const [top, , curve] = exponent(peak);
  const step = STEP / Math.sqrt(-curve);

  const first = new Float64Array(m);
  const second = new Float64Array(m * m);
  const mean = new Float64Array(m);
  let mass = 0;
  let meanFrailty = 0;
  const node = jet(m);
  const addNode = (v: number): boolean => {
    writeNode(v, r, d, used, intervals, six, node);
    if (node.value < top - DEPTH) return false;
    const weight = Math.exp(node.value - top);
    mass += weight;
    meanFrailty += weight * Math.exp(v);
    for (let a = 0; a < m; a++) first[a]! += weight * node.gradient[a]!;
    for (let i = 0; i < m * m; i++) second[i]! += weight * node.hessian[i]!;
    addOuter(second, weight, node.gradient);
    return true;
  };
  addNode(peak);
  for (const side of [-1, 1]) for (let i = 1; addNode(peak + side * i * step); i++);

  const logMass = top + Math.log(mass * step);
  total.value += logMass + r * Math.log(r) - logGamma(r);
  for (let a = 0; a < m; a++) mean[a] = first[a]! / mass;
  for (let a = 0; a < m; a++) total.gradient[a]! += mean[a]!;
  for (let i = 0; i < m * m; i++) total.hessian[i]! += second[i]! / mass;
  addOuter(total.hessian, -1, mean);
  const byR = Math.log(r) + 1 - digamma(r);
  total.gradient[LOG_VARIANCE]! -= r * byR;
  total.hessian[LOG_VARIANCE * m + LOG_VARIANCE]! += r * r * (1 / r - trigamma(r)) + r * byR;
  return meanFrailty / mass;
}

/** The exponent at v with its derivatives by the coordinates. */
function writeNode(
  v: number,
  r: number,
  d: number,
  used: Jet,
  intervals: readonly FrailtyInterval[],
  six: Float64Array,
  node: Jet,
): void {
  const m = used.gradient.length;
  const u = Math.exp(v);
  node.clear();
  node.value = (r + d) * v - u * (r + used.value);
  for (let a = 0; a < m; a++) node.gradient[a] = -u * used.gradient[a]!;
  for (let i = 0; i < m * m; i++) node.hessian[i] = -u * used.hessian[i]!;
  // r = exp(-log variance): d/d log variance of r (v - u) is -r (v - u), and once more r (v - u).
  node.gradient[LOG_VARIANCE]! -= r * (v - u);
  node.hessian[LOG_VARIANCE * m + LOG_VARIANCE]! += r * (v - u);
  for (const { count, lower, upper, byLower, byUpper } of intervals) {
    intervalTerm(v + lower, v + upper, six);
    node.value += count * six[0]!;
    for (let a = 0; a < m; a++) node.gradient[a]! += count * (six[1]! * byLower[a]! + six[2]! * byUpper[a]!);
    addOuter(node.hessian, count * six[3]!, byLower);
    addOuter(node.hessian, count * six[4]!, byLower, byUpper);
    addOuter(node.hessian, count * six[4]!, byUpper, byLower);
    addOuter(node.hessian, count * six[5]!, byUpper);
    // log H bends with the log shape as it rises with it.
    node.hessian[LOG_SHAPE * m + LOG_SHAPE]! += count * (six[1]! * byLower[LOG_SHAPE]! + six[2]! * byUpper[LOG_SHAPE]!);
  }
}
