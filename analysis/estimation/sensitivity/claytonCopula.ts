/**
 * Clayton's copula for two survival functions u = P(X > x), v = P(Y > y), both in (0, 1]:
 *
 *   P(X > x, Y > y) = (u^-a + v^-a - 1)^(-1/a),   a = 2 tau / (1 - tau),   Kendall's tau in [0, 1)
 *
 * tau = 0 is independence, u v. It is what a gamma-distributed severity shared by both ages would give.
 *
 * Source  Clayton (1978), Biometrika 65, 141-151; Oakes (1982), J. Royal Statist. Soc. B 44, 414-422, for tau.
 */
export interface ClaytonCopula {
  /** P(X > x, Y > y) from the logarithms of u and v. */
  joint(logU: number, logV: number): number;
  /** P(X > x | Y = y): the derivative of the joint probability by v. */
  given(logU: number, logV: number): number;
}

export function claytonCopula(tau: number): ClaytonCopula {
  if (tau === 0) return { joint: (logU, logV) => Math.exp(logU + logV), given: (logU) => Math.exp(logU) };
  const a = (2 * tau) / (1 - tau);
  // log(u^-a + v^-a - 1), without overflow.
  const logSum = (logU: number, logV: number): number => {
    const large = -a * Math.min(logU, logV);
    const small = -a * Math.max(logU, logV);
    return large + Math.log1p(Math.expm1(small) * Math.exp(-large));
  };
  return {
    joint: (logU, logV) => Math.exp(-logSum(logU, logV) / a),
    given: (logU, logV) => Math.exp(-(1 / a + 1) * logSum(logU, logV) - (a + 1) * logV),
  };
}
