/**
 * The log likelihood of a Weibull law re-maximised with one quantity held fixed, and the two places where it has
 * dropped by a given amount. See `weibullLikelihood.ts` for (shape, level).
 */
import { digamma, logGamma, trigamma } from "../numerics/index.ts";
import type { WeibullLikelihood } from "./weibullLikelihood.ts";
import type { WeibullQuantity } from "./weibullQuantity.ts";

/** A curve in the (shape, level) plane along which a quantity is fixed at `u`, with `s` running along it. */
interface Curve {
  /** Where s is the shape it must stay above 0; else it is the level, which is free. */
  readonly inner: "shape" | "level";
  shape(u: number, s: number): number;
  level(u: number, s: number): number;
  /** d level / ds and d2 level / ds2 where s is the shape. */
  slope(u: number, s: number): number;
  bend(s: number): number;
  /** Derivatives by u at fixed s, and d2 level / du ds. */
  shapeByU(u: number): number;
  levelByU(s: number): number;
  readonly levelByUAndS: number;
}

/** `u` is the transformed quantity (see `transformedQuantity`). */
function curveOf(quantity: WeibullQuantity, center: number): Curve {
  switch (quantity.kind) {
    case "shape":
      return {
        inner: "level",
        shape: (u) => Math.exp(u),
        level: (_, s) => s,
        slope: () => 1,
        bend: () => 0,
        shapeByU: (u) => Math.exp(u),
        levelByU: () => 0,
        levelByUAndS: 0,
      };
    case "survival": {
      const y = Math.log(quantity.age) - center;
      return {
        inner: "shape",
        shape: (_, s) => s,
        level: (u, s) => u - s * y,
        slope: () => -y,
        bend: () => 0,
        shapeByU: () => 0,
        levelByU: () => 1,
        levelByUAndS: 0,
      };
    }
    case "scale":
    case "quantile": {
      const z = quantity.kind === "scale" ? 0 : Math.log(-Math.log1p(-quantity.failedFraction));
      return {
        inner: "shape",
        shape: (_, s) => s,
        level: (u, s) => z - s * (u - center),
        slope: (u) => center - u,
        bend: () => 0,
        shapeByU: () => 0,
        levelByU: (s) => -s,
        levelByUAndS: -1,
      };
    }
    case "mean":
      return {
        inner: "shape",
        shape: (_, s) => s,
        level: (u, s) => s * (logGamma(1 + 1 / s) - u + center),
        slope: (u, s) => logGamma(1 + 1 / s) - u + center - digamma(1 + 1 / s) / s,
        bend: (s) => trigamma(1 + 1 / s) / s ** 3,
        shapeByU: () => 0,
        levelByU: (s) => -s,
        levelByUAndS: -1,
      };
  }
}

/** How far from the estimate an end is sought, on the transformed scale; beyond that it is open. */
function limitOf(quantity: WeibullQuantity, estimate: number, side: 1 | -1): number {
  // log(-log S): S is 0 in doubles above 6.6 and differs from 1 by less than 1e-300 below -690.
  if (quantity.kind === "survival") return side > 0 ? Math.max(6.6 - estimate, 1) : Math.max(690 + estimate, 1);
  return quantity.kind === "shape" ? 25 : 300;
}

export interface ProfilePoint {
  /** The transformed quantity. */
  readonly u: number;
  readonly shape: number;
  readonly level: number;
}

export interface Profile {
  /**
   * Where the profile has dropped by `drop` from `maximum` on one side of the estimate.
   *
   * @param from  A point to start from, near the answer where the caller knows one.
   * @returns     Null where it never drops that far: the end is open.
   */
  end(side: 1 | -1, drop: number, from: ProfilePoint): ProfilePoint | null;
}

/**
 * @param estimate  The maximum: transformed quantity, shape and level.
 * @param maximum   Log likelihood there.
 */
export function weibullProfile(
  likelihood: WeibullLikelihood,
  quantity: WeibullQuantity,
  estimate: ProfilePoint,
  maximum: number,
): Profile {
  const curve = curveOf(quantity, likelihood.center);
  const at = new Float64Array(6);

  const innerOf = (shape: number, level: number): number => (curve.inner === "shape" ? shape : level);

  /** Maximises along the curve at u from s. Returns the s; `at` holds the likelihood there. */
  const maximise = (u: number, start: number): number => {
    let s = start;
    likelihood.evaluate(curve.shape(u, s), curve.level(u, s), at);
    for (let back = 0; back < 80 && !Number.isFinite(at[0]!); back++) {
      // Too steep to be computed: towards a flatter law every life becomes possible.
      s = curve.inner === "shape" ? s * 0.5 : s - 1;
      likelihood.evaluate(curve.shape(u, s), curve.level(u, s), at);
    }
    for (let iteration = 0; iteration < 100; iteration++) {
      const value = at[0]!;
      const slope = curve.slope(u, s);
      let gradient: number;
      let curvature: number;
      if (curve.inner === "shape") {
        gradient = at[1]! + at[2]! * slope;
        curvature = at[3]! + 2 * slope * at[4]! + slope * slope * at[5]! + at[2]! * curve.bend(s);
      } else {
        gradient = at[2]!;
        curvature = at[5]!;
      }
      const reach = curve.inner === "shape" ? 0.8 * s : 2;
      const newton = curvature < 0 ? -gradient / curvature : Math.sign(gradient) * reach;
      const decrement = Math.abs(gradient * newton);
      if (curvature < 0 && decrement < 1e-14) return s;
      let step = Math.max(-reach, Math.min(curve.inner === "shape" ? 4 * s : reach, newton));
      let climbed = false;
      for (let halving = 0; halving < 50; halving++) {
        likelihood.evaluate(curve.shape(u, s + step), curve.level(u, s + step), at);
        climbed = at[0]! >= value - 1e-13 * Math.abs(value);
        if (climbed) break;
        step *= 0.5;
      }
      if (!climbed) {
        likelihood.evaluate(curve.shape(u, s), curve.level(u, s), at);
        return s;
      }
      s += step;
      // A maximum at shape 0: the value has settled, the shape never will.
      if (decrement < 1e-10 && s < 1e-8 * estimate.shape) return s;
    }
    return s;
  };

  /**
   * Newton's method on both conditions at once: the drop is right, and no move along the curve climbs. Four or five
   * evaluations from a fair start. Null where it does not settle on this side; then the slower search decides.
   */
  const endAtOnce = (side: 1 | -1, target: number, from: ProfilePoint): ProfilePoint | null => {
    let u = from.u;
    let s = innerOf(from.shape, from.level);
    for (let iteration = 0; iteration < 12; iteration++) {
      const shape = curve.shape(u, s);
      const level = curve.level(u, s);
      likelihood.evaluate(shape, level, at);
      const [value = 0, dShape = 0, dLevel = 0, shapeShape = 0, shapeLevel = 0, levelLevel = 0] = at;
      if (!(value < maximum && side * (u - estimate.u) > 0)) return null;
      const root = Math.sqrt(2 * (maximum - value));
      const slope = curve.slope(u, s);
      const alongS = curve.inner === "shape" ? dShape + dLevel * slope : dLevel;
      const alongSS =
        curve.inner === "shape"
          ? shapeShape + 2 * slope * shapeLevel + slope * slope * levelLevel + dLevel * curve.bend(s)
          : levelLevel;
      const byU = dShape * curve.shapeByU(u) + dLevel * curve.levelByU(s);
      const towardsLevel = curve.inner === "shape" ? shapeLevel + levelLevel * slope : levelLevel;
      const byUS = curve.levelByUAndS * dLevel + curve.levelByU(s) * towardsLevel + curve.shapeByU(u) * shapeLevel;
      if (!(alongSS < 0)) return null;
      const short = root - target;
      const decrement = (alongS * alongS) / -alongSS;
      if (Math.abs(short) <= 1e-10 * Math.max(1, target) && decrement <= 1e-14) return { u, shape, level };
      const determinant = byU * alongSS - alongS * byUS;
      const stepU = (root * short * alongSS + alongS * alongS) / determinant;
      const stepS = -(root * short * byUS + byU * alongS) / determinant;
      const size =
        curve.inner === "shape" && stepS !== 0 ? Math.min(1, (stepS < 0 ? 0.7 : 2) * Math.abs(s / stepS)) : 1;
      if (!Number.isFinite(stepU) || !Number.isFinite(stepS)) return null;
      u += size * stepU;
      s += size * stepS;
    }
    return null;
  };

  return {
    end: (side, drop, from) => {
      const target = Math.sqrt(2 * drop);
      const quick = endAtOnce(side, target, from);
      if (quick) return quick;
      const limit = limitOf(quantity, estimate.u, side);
      let s = innerOf(from.shape, from.level);
      let u = from.u;
      // Signed root of twice the drop is nearly linear in u: bracketed Newton on it.
      let inside = estimate.u;
      let outside: number | null = null;
      let soundS = innerOf(estimate.shape, estimate.level);
      for (let iteration = 0; iteration < 100; iteration++) {
        // From a shape that has run down to 0 no step leads back up.
        s = maximise(u, curve.inner === "shape" ? Math.max(s, 1e-6 * estimate.shape) : s);
        if (maximum - at[0]! > drop) {
          // It may have climbed a lower hill, or none, from a guess far off: tried again from the last place inside.
          const [lowS, low] = [s, at[0]!];
          s = maximise(u, soundS);
          if (!(at[0]! > low)) s = maximise(u, lowS);
        }
        const shape = curve.shape(u, s);
        const root = Math.sqrt(Math.max(0, 2 * (maximum - at[0]!)));
        const short = root - target;
        const slope = (-side * (at[1]! * curve.shapeByU(u) + at[2]! * curve.levelByU(s))) / Math.max(root, 1e-300);
        if (Math.abs(short) <= 1e-11 * Math.max(1, target)) return { u, shape, level: curve.level(u, s) };
        if (short > 0) outside = u;
        else {
          inside = u;
          soundS = s;
        }
        if (outside === null && side * (u - estimate.u) >= limit) return null;
        // Distance to go, in the direction of `side`.
        let step = slope > 0 ? -short / slope : Number.POSITIVE_INFINITY;
        if (!Number.isFinite(step)) step = Number.POSITIVE_INFINITY;
        let next: number;
        if (outside === null) {
          const reached = Math.max(side * (u - estimate.u), 1e-3);
          next = estimate.u + side * Math.min(limit, side * (u - estimate.u) + Math.min(step, 2 * reached));
          if (side * (next - u) <= 0) next = u + side * reached;
        } else {
          next = u + side * step;
          const isInside = side * (next - inside) > 0 && side * (outside - next) > 0;
          if (!isInside) next = 0.5 * (inside + outside);
          if (Math.abs(outside - inside) <= 1e-12 * Math.max(1, Math.abs(outside))) {
            return { u, shape, level: curve.level(u, s) };
          }
        }
        // Keep the inner variable sensible across the move: along the curve the shape, not the level, is continuous.
        u = next;
      }
      return null;
    },
  };
}
