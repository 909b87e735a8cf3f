import { lawFamilies, type Theta } from "../distributions/lawFamilies.ts";
import { SECOND, TEN } from "../distributions/lawPoint.ts";
import { type Climbed, climbNewton, type Surface } from "./climbNewton.ts";
import type { LawFound } from "./fitLaw.ts";
import type { LawCurve } from "./lawCurve.ts";
import type { LawLikelihood } from "./lawLikelihood.ts";
import { boundOfThird, freeBut, LARGEST_Q, reachOf, thresholdLimit } from "./lawSurface.ts";
import { covarianceAlong } from "./lawWaldBounds.ts";
import type { LifeSample } from "./types.ts";

/** Shares of the largest |Q| beyond which the search has run into the edge, and from which it starts anew. */
const EDGE = 0.99;
const START = 0.95;

export interface LawProfile {
  /** The transformed quantity at which the profile has dropped by `drop` on one side of the estimate; null where it never does. */
  end(side: 1 | -1, drop: number): number | null;
}

interface Settled {
  readonly inner: readonly number[];
  readonly value: number;
  /** d profile / du. */
  readonly slope: number;
}

/** The likelihood re-maximised along a curve of laws on which a quantity is fixed. */
export function lawProfile(likelihood: LawLikelihood, sample: LifeSample, fit: LawFound, curve: LawCurve): LawProfile {
  const family = lawFamilies[fit.law];
  const free = freeBut(family, curve.held ?? 0);
  const placeOfQ = family.name === "generalised gamma" ? free.indexOf(2) : -1;
  const bound = boundOfThird(family, sample);
  const out = new Float64Array(TEN);
  const estimate = curve.transformed(fit.theta);
  const maximum = fit.logLikelihood;
  const firstGap = family.name === "three-parameter weibull" ? thresholdLimit(sample) - fit.theta[2] : 0;

  const coordinates = (
    u: number,
    inner: readonly (0 | 1 | 2)[],
    at: readonly number[],
    third: number,
  ): [number, number, number] => {
    const theta: [number, number, number] = [0, 0, third];
    if (curve.held !== null) theta[curve.held] = curve.sign * u;
    inner.forEach((index, i) => {
      theta[index] = at[i]!;
    });
    return theta;
  };

  /** Over the coordinates `inner`; `third` counts where it is none of them. */
  const surfaceAt = (u: number, inner: readonly (0 | 1 | 2)[], third: number): Surface => ({
    dimension: inner.length,
    evaluate: (at, gradient, hessian) => {
      const m = inner.length;
      const theta = coordinates(u, inner, at, third);
      if (curve.held !== null) {
        likelihood.evaluate(theta, out);
        for (let i = 0; i < m; i++) {
          gradient[i] = out[1 + inner[i]!]!;
          for (let j = 0; j < m; j++) hessian[i * m + j] = out[SECOND[inner[i]!]![inner[j]!]!]!;
        }
        return out[0]!;
      }
      const { mu, by, by2 } = curve.mu(u, theta[1], theta[2]);
      if (!Number.isFinite(mu)) return Number.NEGATIVE_INFINITY;
      theta[0] = mu;
      likelihood.evaluate(theta, out);
      const byMu = out[1]!;
      for (let i = 0; i < m; i++) {
        const a = inner[i]!;
        const slopeA = by[a - 1]!;
        gradient[i] = out[1 + a]! + byMu * slopeA;
        for (let j = 0; j < m; j++) {
          const b = inner[j]!;
          const slopeB = by[b - 1]!;
          hessian[i * m + j] =
            out[SECOND[a]![b]!]! +
            out[SECOND[0]![a]!]! * slopeB +
            out[SECOND[0]![b]!]! * slopeA +
            out[4]! * slopeA * slopeB +
            byMu * by2[a + b - 2]!;
        }
      }
      return out[0]!;
    },
    reach: (at, step) => reachOf(inner, at, step, Math.exp(coordinates(u, inner, at, third)[1]), bound),
    ...(placeOfQ >= 0 && inner.length === free.length
      ? { isAtEdge: (at: readonly number[]): boolean => Math.abs(at[placeOfQ]!) > EDGE * LARGEST_Q }
      : {}),
  });

  const climbFrom = (u: number, inner: readonly (0 | 1 | 2)[], from: readonly number[], third: number): Climbed => {
    const m = inner.length;
    const surface = surfaceAt(u, inner, third);
    let start = from;
    const gradient = new Float64Array(m);
    const hessian = new Float64Array(m * m);
    for (let back = 0; back < 40 && !Number.isFinite(surface.evaluate(start, gradient, hessian)); back++) {
      // Too steep to be computed: towards a wider law every life becomes possible.
      start = start.map((x, i) => (inner[i] === 1 ? x + 0.5 : inner[i] === 2 && family.name === "gamma" ? x - 0.5 : x));
    }
    return climbNewton(surface, start, { tolerance: 1e-15, maxIterations: 80 });
  };

  /** With Q free the search may run into |Q| = 10: then it is held there and the others are maximised. */
  const climbWithin = (
    u: number,
    from: readonly number[],
  ): { readonly at: readonly number[]; readonly climbed: Climbed } => {
    const inside = from.map((x, i) =>
      i === placeOfQ ? Math.max(-START * LARGEST_Q, Math.min(START * LARGEST_Q, x)) : x,
    );
    const climbed = climbFrom(u, free, inside, 0);
    const q = placeOfQ >= 0 ? climbed.at[placeOfQ]! : 0;
    if (Math.abs(q) <= EDGE * LARGEST_Q) return { at: climbed.at, climbed };
    const edge = Math.sign(q) * LARGEST_Q;
    const others = free.filter((index) => index !== 2);
    const held = climbFrom(
      u,
      others,
      climbed.at.filter((_, i) => i !== placeOfQ),
      edge,
    );
    const at = free.map((index) => (index === 2 ? edge : held.at[others.indexOf(index)]!));
    return { at, climbed: held };
  };

  const settle = (u: number, from: readonly number[]): Settled | null => {
    const { at, climbed } = climbWithin(u, from);
    if (!Number.isFinite(climbed.value)) return null;
    const theta = coordinates(u, free, at, 0);
    if (family.name === "three-parameter weibull") {
      // The interior ridge has ended and the search ran off towards the first failure, where the likelihood is unbounded.
      const gap = thresholdLimit(sample) - theta[2];
      // Towards minus infinity the likelihood is flat and tends to a limit: that is its largest value there.
      if (gap < 1e-4 * firstGap || !(climbed.converged || gap > 30 * firstGap)) return null;
    }
    const { mu, byU } = curve.mu(u, theta[1], theta[2]);
    if (curve.held === null) theta[0] = mu;
    likelihood.evaluate(theta, out);
    const slope = curve.held === null ? out[1]! * byU : curve.sign * out[1 + curve.held]!;
    return { inner: at, value: climbed.value, slope };
  };

  return {
    end: (side, drop) => {
      const target = Math.sqrt(2 * drop);
      const limit = limitOf(curve, fit, estimate, side);
      const guess = firstGuess(fit, curve, estimate, side, target, limit);
      let u = guess.u;
      let from: readonly number[] = free.map((index) => guess.theta[index]);
      // The signed root of twice the drop is nearly linear in u: bracketed Newton on it.
      let inside = estimate;
      let outside: number | null = null;
      const first = Math.abs(guess.u - estimate);
      // A climb from a guess far off may end on a lower hill, or run away: tried again from the last place inside.
      let sound: readonly number[] = free.map((index) => fit.theta[index]);
      const settleSoundly = (at: number): Settled | null => {
        const settled = settle(at, from);
        if (settled === null || maximum - settled.value <= drop) return settled;
        const again = settle(at, sound);
        return again !== null && again.value > settled.value ? again : settled;
      };
      for (let iteration = 0; iteration < 120; iteration++) {
        const settled = settleSoundly(u);
        if (!settled) return null;
        from = settled.inner;
        const root = Math.sqrt(Math.max(0, 2 * (maximum - settled.value)));
        const short = root - target;
        if (Math.abs(short) <= 1e-11 * Math.max(1, target)) return u;
        if (short > 0) outside = u;
        else {
          inside = u;
          sound = settled.inner;
        }
        const reached = side * (u - estimate);
        if (outside === null && reached >= limit * (1 - 1e-12)) return null;
        const slope = (-side * settled.slope) / Math.max(root, 1e-300);
        const step = slope > 0 && root > 0 ? -short / slope : Number.POSITIVE_INFINITY;
        if (outside === null) {
          const most = 2 * Math.max(reached, 1e-3 * first);
          u = estimate + side * Math.min(limit, reached + Math.min(step, most));
        } else {
          const next = u + side * step;
          const isBetween = side * (next - inside) > 0 && side * (outside - next) > 0;
          u = isBetween ? next : 0.5 * (inside + outside);
          if (Math.abs(outside - inside) <= 1e-13 * Math.max(first, Math.abs(outside))) return u;
        }
      }
      return u;
    },
  };
}

/** How far from the estimate an end is sought, on the transformed scale; beyond that it is open. */
function limitOf(curve: LawCurve, fit: LawFound, estimate: number, side: 1 | -1): number {
  if (curve.isDecreasing) return side > 0 ? Math.max(6.6 - estimate, 1) : Math.max(690 + estimate, 1);
  if (curve.held === 2 && fit.law === "generalised gamma") return LARGEST_Q - side * estimate;
  if (curve.held === 1 || curve.held === 2) return 25;
  if (curve.isLog || lawFamilies[fit.law].ageScale === "log") return 300;
  return 1e6 * (Math.abs(estimate) + Math.exp(fit.theta[1]) + Math.exp(Math.min(fit.theta[0], 300)));
}

/** Where the end would be if the likelihood were normal: the estimate moved along the profile's direction. */
function firstGuess(
  fit: LawFound,
  curve: LawCurve,
  estimate: number,
  side: 1 | -1,
  target: number,
  limit: number,
): { readonly u: number; readonly theta: Theta } {
  const gradient = [0, 1, 2].map((index) => {
    const h =
      1e-5 *
      Math.max(
        1e-3,
        Math.sqrt(
          covarianceAlong(
            fit,
            [0, 1, 2].map((k) => (k === index ? 1 : 0)),
          )[index]!,
        ),
      );
    const at = (step: number): number => {
      const theta: [number, number, number] = [...fit.theta];
      theta[index]! += step;
      return curve.transformed(theta);
    };
    const slope = (at(h) - at(-h)) / (2 * h);
    return lawFamilies[fit.law].free.some((free) => free === index) && Number.isFinite(slope) ? slope : 0;
  });
  const along = covarianceAlong(fit, gradient);
  const variance = along.reduce((sum, value, i) => sum + value * gradient[i]!, 0);
  if (!(variance > 0)) return { u: estimate + side * Math.min(limit, 0.1), theta: fit.theta };
  const error = Math.sqrt(variance);
  const size = Math.min(target * error, 0.5 * limit);
  const move = (side * size) / variance;
  const [mu, logSigma, third] = fit.theta;
  const clip = (x: number, most: number): number => Math.max(-most, Math.min(most, x));
  const isPrentice = fit.law === "generalised gamma";
  const nextThird = fit.law === "three-parameter weibull" ? third : third + clip(move * along[2], 1.5);
  return {
    u: estimate + side * size,
    theta: [
      mu + move * along[0],
      logSigma + clip(move * along[1], 1.5),
      isPrentice ? clip(nextThird, 0.9 * LARGEST_Q) : nextThird,
    ],
  };
}
