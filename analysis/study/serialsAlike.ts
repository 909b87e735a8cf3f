import type { LifeLaw } from "../distributions/lifeLaw.ts";
import { chiSquareUpperTail } from "../numerics/index.ts";
import type { SettledLife } from "./settleAges.ts";

/** Under this p-value tools are taken to differ. Common practice, no source. */
export const TOOLS_DIFFER = 0.05;

/** Fewer serials are not tested. Common practice, no source. */
const FEWEST = 5;

/**
 * p-value of "all serials fail alike": Pearson's statistic of failures against those expected under the fit,
 * sum over serials of (failed - expected)^2 / expected, against chi-square. Expected is failed less the score residual
 * of the cumulative hazard, which holds for exact, right-, left- and interval-censored lives. Serials with little
 * exposure are taken together, so that no expected count is under 1 (Cochran 1954, Biometrics 10, 417-451).
 */
export function serialsAlike(settled: readonly SettledLife[], law: Pick<LifeLaw, "cumulativeHazard">): number | null {
  const bySerial = new Map<string, { failed: number; expected: number }>();
  for (const { life, lower, upper, entry } of settled) {
    const tally = bySerial.get(life.serial) ?? { failed: 0, expected: 0 };
    const h = (age: number) => law.cumulativeHazard(age);
    const given = h(entry);
    if (upper === null) tally.expected += h(lower) - given;
    else {
      tally.failed += 1;
      if (lower === upper) tally.expected += h(upper) - given;
      else {
        const [a, b] = [h(lower), h(upper)];
        const [low, high] = [Math.exp(-a), Math.exp(-b)];
        tally.expected += 1 + (a * low - b * high) / (low - high) - given;
      }
    }
    bySerial.set(life.serial, tally);
  }
  if (bySerial.size < FEWEST) return null;
  let [statistic, cells] = [0, 0];
  let rest = { failed: 0, expected: 0 };
  for (const { failed, expected } of bySerial.values()) {
    rest = { failed: rest.failed + failed, expected: rest.expected + expected };
    if (rest.expected < 1) continue;
    statistic += (rest.failed - rest.expected) ** 2 / rest.expected;
    cells += 1;
    rest = { failed: 0, expected: 0 };
  }
  return cells > 2 ? chiSquareUpperTail(statistic, cells - 1) : 1;
}
