/**
 * A law of the standardised age w = (y - mu) / sigma, y the age or its logarithm, with a third parameter q where it has one.
 * Each method writes [value, d w, d q, d2 w w, d2 w q, d2 q q] to `out`; q and its derivatives are 0 where the law has none.
 * Every value is a logarithm of a density or of the tail itself, never of 1 less the other tail.
 */
export interface StandardLaw {
  logDensity(w: number, q: number, out: Float64Array): void;
  /** log P(W > w). */
  logSurvival(w: number, q: number, out: Float64Array): void;
  /** log P(W <= w). */
  logFailed(w: number, q: number, out: Float64Array): void;
  /** The w of given log P(W > w) and log P(W <= w), in closed form where there is one. */
  quantile?(logSurvival: number, logFailed: number): number;
  /** Where the tails of this q change and over which length: given where they cost enough to be tabulated for many lives. */
  readonly tailsAt?: (q: number) => { readonly middle: number; readonly length: number };
}

export function writeSix(
  out: Float64Array,
  value: number,
  w: number,
  q: number,
  ww: number,
  wq: number,
  qq: number,
): void {
  out[0] = value;
  out[1] = w;
  out[2] = q;
  out[3] = ww;
  out[4] = wq;
  out[5] = qq;
}
