/**
 * r - log(1 + r), the building block of gamma and beta densities that keeps its digits where x is near its mean
 * (Loader 2000, "Fast and accurate computation of binomial probabilities").
 *
 * @param r         r > -1.
 * @param logRatio  log(1 + r), given by the caller because r may have lost it when r is near -1.
 */
export function deviance(r: number, logRatio: number): number {
  if (Math.abs(r) >= 0.1) return r - logRatio;
  const v = r / (2 + r);
  const square = v * v;
  let power = v * square;
  let sum = 0;
  for (let k = 3; k < 60; k += 2) {
    const term = power / k;
    sum += term;
    if (Math.abs(term) <= 1e-18 * Math.abs(sum)) break;
    power *= square;
  }
  return r * v - 2 * sum;
}
