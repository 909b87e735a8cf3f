/**
 * Log odds that a value was written in another unit: normal law about what is usual, against the same law about the
 * value as it would stand in the other unit.
 *
 * @param away       How far the value lies from what is usual, in the scale of `spread`.
 * @param awayOther  How far it would lie if it were what the other unit makes of it.
 * @param prior      Probability of a wrong unit before looking at the value.
 */
export function oddsOfOther(away: number, awayOther: number, spread: number, prior: number): number {
  return (away ** 2 - awayOther ** 2) / (2 * spread ** 2) + Math.log(prior / (1 - prior));
}
