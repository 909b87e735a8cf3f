/** Nodes on (0, 1) by their distance from either end, so that neither loses digits, with weights. */
export interface EndpointRule {
  readonly fromLeft: Float64Array;
  readonly fromRight: Float64Array;
  readonly weight: Float64Array;
}

/**
 * Double-exponential (tanh-sinh) rule on (0, 1): full accuracy for integrands with algebraic singularities at the ends,
 * as a Weibull density has at age 0 where its shape is under 1.
 * Source  Takahasi & Mori (1974), Publ. RIMS Kyoto Univ. 9, 721-741.
 */
export function doubleExponential(step: number, reach: number): EndpointRule {
  const count = 2 * Math.round(reach / step) + 1;
  const fromLeft = new Float64Array(count);
  const fromRight = new Float64Array(count);
  const weight = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const t = (k - (count - 1) / 2) * step;
    const s = (Math.PI / 2) * Math.sinh(t);
    fromLeft[k] = 1 / (1 + Math.exp(-2 * s));
    fromRight[k] = 1 / (1 + Math.exp(2 * s));
    weight[k] = (step * (Math.PI / 4) * Math.cosh(t)) / Math.cosh(s) ** 2;
  }
  return { fromLeft, fromRight, weight };
}
