/** Nodes and weights of Gauss-Legendre quadrature on [0, 1]; the weights sum to 1. */
export interface Quadrature {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
}

const known = new Map<number, Quadrature>();

/**
 * Gauss-Legendre rule of `n` points on [0, 1], exact for polynomials up to degree 2n - 1.
 * Newton's method on the Legendre polynomial from the usual cosine start (DLMF 3.5.v, 18.16).
 */
export function gaussLegendre(n: number): Quadrature {
  const found = known.get(n);
  if (found) return found;
  const nodes = new Float64Array(n);
  const weights = new Float64Array(n);
  for (let i = 0; i < Math.ceil(n / 2); i++) {
    let z = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let step = 0; step < 100; step++) {
      let before = 0;
      let value = 1;
      for (let j = 1; j <= n; j++) {
        const next = ((2 * j - 1) * z * value - (j - 1) * before) / j;
        before = value;
        value = next;
      }
      slope = (n * (z * value - before)) / (z * z - 1);
      const change = value / slope;
      z -= change;
      if (Math.abs(change) < 1e-16) break;
    }
    const weight = 1 / ((1 - z * z) * slope * slope);
    nodes[i] = 0.5 * (1 - z);
    nodes[n - 1 - i] = 0.5 * (1 + z);
    weights[i] = weight;
    weights[n - 1 - i] = weight;
  }
  const rule = { nodes, weights };
  known.set(n, rule);
  return rule;
}
