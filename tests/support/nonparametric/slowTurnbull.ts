import type { LifeRow } from "./sampleOf.ts";

/**
 * Expectation-maximisation on every elementary place between the ages that occur (a single age, or the gap up to the
 * next), each a unit apart on whole-number ages. Slow, and with nothing clever: no innermost intervals, no Newton.
 *
 * @param rows  Ages are whole numbers, so the places are 1, 2, ... `last` and "beyond".
 * @returns     Log-likelihood and survival after each whole age, after `sweeps` steps of Turnbull's self-consistency.
 *              Late entry: each life stands for 1 / P(T > entry) lives, the unseen ones before its entry (Turnbull 1976).
 */
export function slowTurnbull(
  rows: readonly LifeRow[],
  sweeps: number,
  whenSwept: (sweep: number, survivalAfter: readonly number[]) => boolean = () => false,
): { logLikelihood: number; survivalAfter: number[]; largestGradient: number } {
  const last = Math.max(...rows.map((row) => row.upper ?? row.lower)) + 1;
  const ages = Array.from({ length: last }, (_, at) => at + 1);
  const lives = rows.map(({ lower, upper, entry = 0, count = 1 }) => ({
    may: ages.map((age) => (lower === upper ? age === lower : age > lower && age <= (upper ?? last))),
    seen: ages.map((age) => age > entry),
    count,
  }));
  let mass = ages.map(() => 1 / last);
  const sumOver = (where: readonly boolean[]): number => mass.reduce((sum, m, j) => (where[j] ? sum + m : sum), 0);
  const survivalAfter = (): number[] => ages.map((_, j) => mass.slice(j + 1).reduce((sum, m) => sum + m, 0));
  for (let sweep = 1; sweep <= sweeps; sweep += 1) {
    const expected = ages.map(() => 0);
    for (const { may, seen, count } of lives) {
      const [inside, followed] = [sumOver(may), sumOver(seen)];
      ages.forEach((_, j) => {
        const m = mass[j] ?? 0;
        if (may[j]) expected[j] = (expected[j] ?? 0) + (count * m) / inside;
        if (!seen[j]) expected[j] = (expected[j] ?? 0) + (count * m) / followed;
      });
    }
    const total = expected.reduce((sum, m) => sum + m, 0);
    mass = expected.map((m) => m / total);
    if (whenSwept(sweep, survivalAfter())) break;
  }
  const total = lives.reduce((sum, life) => sum + life.count, 0);
  const gradient = ages.map((_, j) =>
    lives.reduce(
      (sum, { may, seen, count }) => sum + (may[j] ? count / sumOver(may) : 0) - (seen[j] ? count / sumOver(seen) : 0),
      0,
    ),
  );
  return {
    logLikelihood: lives.reduce((sum, { may, seen, count }) => sum + count * Math.log(sumOver(may) / sumOver(seen)), 0),
    survivalAfter: survivalAfter(),
    largestGradient: 1 + Math.max(...gradient) / total,
  };
}
