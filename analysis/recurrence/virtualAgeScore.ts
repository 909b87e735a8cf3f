import type { Stretch } from "./virtualAgePath.ts";

/** Log likelihood of a Weibull law under virtual ages, with its slopes in log shape, log scale and the repair factor. */
export interface VirtualAgeScore {
  readonly logLikelihood: number;
  readonly score: readonly [logShape: number, logScale: number, q: number];
}

/**
 * Each stretch from virtual age a to b, with H(t) = (t/scale)^shape:
 *   ended by a failure  log h(b) - [H(b) - H(a)],   still running  -[H(b) - H(a)]
 */
export function virtualAgeScore(stretches: readonly Stretch[], shape: number, scale: number): VirtualAgeScore {
  let logLikelihood = 0;
  let byShape = 0;
  let byScale = 0;
  let byQ = 0;
  for (const { from, length, failed, fromSlope } of stretches) {
    const to = from + length;
    const logTo = Math.log(to / scale);
    const { rise, riseByShape } = hazardRise(from / scale, length / scale, shape);
    logLikelihood -= rise;
    byShape -= shape * riseByShape;
    byScale += shape * rise;
    // dH/dt = shape H / t; at a virtual age of 0 the slope of a shape below 1 is unbounded, but there fromSlope is 0.
    if (fromSlope !== 0) byQ -= (shape / scale) * fromSlope * powerDifference(from / scale, length / scale, shape - 1);
    if (!failed) continue;
    logLikelihood += Math.log(shape / scale) + (shape - 1) * logTo;
    byShape += 1 + shape * logTo;
    byScale -= shape;
    byQ += ((shape - 1) * fromSlope) / to;
  }
  return { logLikelihood, score: [byShape, byScale, byQ] };
}

/** (a + x)^k - a^k and its slope in k, without loss where x is small beside a. */
export function hazardRise(a: number, x: number, k: number): { readonly rise: number; readonly riseByShape: number } {
  const b = a + x;
  const rise = powerDifference(a, x, k);
  const earlier = a > 0 ? a ** k * Math.log1p(x / a) : 0;
  return { rise, riseByShape: rise * Math.log(b) + earlier };
}

function powerDifference(a: number, x: number, k: number): number {
  return a > 0 ? a ** k * Math.expm1(k * Math.log1p(x / a)) : (a + x) ** k - (k > 0 ? 0 : a ** k);
}
