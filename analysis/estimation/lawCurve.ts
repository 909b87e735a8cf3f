import type { LawFamily, Theta } from "../distributions/lawFamilies.ts";
import { lawPoint } from "../distributions/lawPoint.ts";
import { logComplement } from "../numerics/index.ts";
import {
  type LawQuantity,
  meanWithDerivatives,
  parameterOf,
  quantileByQ,
  quantileOf,
  quantityAt,
} from "./lawQuantity.ts";

/** mu along a surface on which a quantity is fixed, with derivatives by u and by (log sigma, third). */
export interface MuAt {
  readonly mu: number;
  readonly byU: number;
  readonly by: readonly [s: number, q: number];
  readonly by2: readonly [ss: number, sq: number, qq: number];
}

/**
 * The laws on which a quantity has a given value, so that the likelihood can be re-maximised over the rest without constraint:
 * either one coordinate of theta is held, or mu follows from the quantity and the other coordinates.
 */
export interface LawCurve {
  /** The coordinate held, or null where mu follows. */
  readonly held: 0 | 1 | 2 | null;
  /** The quantity on the scale on which its bounds are sought: the logarithm, log(-log S), or itself. */
  readonly transformed: (theta: Theta) => number;
  readonly untransformed: (u: number) => number;
  /** Of the held coordinate from u. */
  readonly sign: 1 | -1;
  readonly mu: (u: number, logSigma: number, third: number) => MuAt;
  /** Bounds in u, infinitely far unless the quantity itself ends there. */
  readonly isDecreasing: boolean;
  readonly isLog: boolean;
}

const NO_MU: MuAt = { mu: 0, byU: 0, by: [0, 0], by2: [0, 0, 0] };

export function lawCurve(family: LawFamily, quantity: LawQuantity): LawCurve {
  const isAbove = family.ageScale === "above threshold";
  const isLog = family.ageScale === "log";
  if (quantity.kind === "parameter") {
    const parameter = parameterOf(family, quantity.name);
    return {
      held: parameter.index,
      sign: parameter.sign,
      transformed: (theta) => parameter.sign * theta[parameter.index],
      untransformed: (u) => (parameter.isLog ? Math.exp(u) : u),
      mu: () => NO_MU,
      isDecreasing: false,
      isLog: parameter.isLog,
    };
  }
  if (quantity.kind === "survival") {
    const point = lawPoint(family);
    const y = (third: number): number =>
      isLog ? Math.log(quantity.age) : isAbove ? Math.log(quantity.age - third) : quantity.age;
    return {
      held: null,
      sign: 1,
      transformed: (theta) => {
        const out = new Float64Array(10);
        point.logSurvival(quantity.age, theta, out);
        if (out[0]! < -1e-280) return Math.log(-out[0]!);
        point.logFailed(quantity.age, theta, out);
        return out[0]!;
      },
      untransformed: (u) => Math.exp(-Math.exp(u)),
      mu: (u, logSigma, third) => {
        const logSurvival = -Math.exp(u);
        const logFailed = u < -40 ? u : logComplement(logSurvival);
        const { w, byQ, byQQ, logSurvivalSlope } = quantileByQ(family, logSurvival, logFailed, isAbove ? 0 : third);
        const sigma = Math.exp(logSigma);
        return withThreshold(isAbove, quantity.age, third, {
          mu: y(third) - sigma * w,
          byU: (-sigma * logSurvival) / logSurvivalSlope,
          by: [-sigma * w, -sigma * byQ],
          by2: [-sigma * w, -sigma * byQ, -sigma * byQQ],
        });
      },
      isDecreasing: true,
      isLog: false,
    };
  }
  return {
    held: null,
    sign: 1,
    transformed: (theta) => {
      const value = quantityAt(family, theta, quantity);
      return isLog ? Math.log(value) : value;
    },
    untransformed: (u) => (isLog ? Math.exp(u) : u),
    mu: (u, logSigma, third) => {
      const sigma = Math.exp(logSigma);
      const y = isAbove ? Math.log(u - third) : u;
      const byU = isAbove ? 1 / (u - third) : 1;
      if (quantity.kind === "quantile") {
        const { w, byQ, byQQ } = quantileOf(family, quantity.failedFraction, isAbove ? 0 : third);
        return withThreshold(isAbove, u, third, {
          mu: y - sigma * w,
          byU,
          by: [-sigma * w, -sigma * byQ],
          by2: [-sigma * w, -sigma * byQ, -sigma * byQQ],
        });
      }
      const mean = meanWithDerivatives(family, logSigma, third);
      return withThreshold(isAbove, u, third, {
        mu: y - mean.value,
        byU,
        by: [-mean.s, -mean.q],
        by2: [-mean.ss, -mean.sq, -mean.qq],
      });
    },
    isDecreasing: false,
    isLog,
  };
}

/** With a threshold y = log(age - threshold) moves with it; q does not exist there. */
function withThreshold(isAbove: boolean, age: number, threshold: number, at: MuAt): MuAt {
  if (!isAbove) return at;
  const inverse = 1 / (age - threshold);
  return { ...at, by: [at.by[0], -inverse], by2: [at.by2[0], 0, -inverse * inverse] };
}
