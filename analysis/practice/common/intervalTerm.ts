/**
 * log(e^-A - e^-B) with A = e^alpha < B = e^beta, and its derivatives: what an interval adds, given the logs of the cumulative
 * hazards at its ends. alpha = -Infinity for an interval from age 0.
 * Writes [value, alpha, beta, alpha alpha, alpha beta, beta beta].
 */
export function intervalTerm(alpha: number, beta: number, out: Float64Array): void {
  const a = Math.exp(alpha);
  const b = Math.exp(beta);
  // Where both lie far below 1, or close together, the difference of the logs keeps the digits.
  const width = alpha === Number.NEGATIVE_INFINITY ? b : a * Math.expm1(beta - alpha);
  // 1 / (e^width - 1)
  const odds = width > 700 ? 0 : 1 / Math.expm1(width);
  const bend = odds * (1 + odds);
  out[0] = -a + Math.log(-Math.expm1(-width));
  out[1] = -a * (1 + odds);
  out[2] = b * odds;
  out[3] = -a * (1 + odds) - a * a * bend;
  out[4] = a * b * bend;
  out[5] = b * odds - b * b * bend;
}
