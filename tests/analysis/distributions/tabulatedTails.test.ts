// Second implementation: the law's own tails, computed one by one.
import { describe, expect, test } from "vitest";
import { gaussian } from "../../../analysis/distributions/standard/gaussian.ts";
import { logGammaLaw } from "../../../analysis/distributions/standard/logGammaLaw.ts";
import { prentice } from "../../../analysis/distributions/standard/prentice.ts";
import { tabulatedTails } from "../../../analysis/distributions/standard/tabulatedTails.ts";

const points = Array.from({ length: 400 }, (_, i) => -12 + 0.0601 * i);

describe.each([
  ["generalised gamma", prentice, [-8, -1, -0.3, -0.05, 0, 0.02, 0.29, 0.31, 1, 2.5, 9]],
  ["log gamma", logGammaLaw, [-3, -0.5, 0, 0.7, 3, 6]],
] as const)("%s: tails from the table are the tails", (_, law, qs) => {
  test.each(qs)("q = %s", (q) => {
    const quick = tabulatedTails(law);
    const { middle, length } = law.tailsAt?.(q) ?? { middle: 0, length: 1 };
    const [here, there] = [new Float64Array(6), new Float64Array(6)];
    let fromTable = 0;
    for (const point of points) {
      const w = middle + point * Math.max(length, 0.3);
      for (const name of ["logSurvival", "logFailed"] as const) {
        quick[name](w, q, here);
        law[name](w, q, there);
        if (!Number.isFinite(there[0]!)) continue;
        if (here[0] !== there[0]) fromTable++;
        // Second derivatives are differences of products of first ones: they lose what those are larger by.
        const slope = Math.max(1, Math.abs(there[1]!));
        const byQ = Math.max(1, Math.abs(there[2]!));
        const sizes = [1, slope, byQ, slope * slope, slope * byQ, byQ * byQ];
        for (let k = 0; k < 6; k++) {
          const scale = Math.max(sizes[k]!, Math.abs(there[k]!)) * Math.max(1, Math.abs(there[0]!));
          expect(Math.abs(here[k]! - there[k]!), `${name} ${k} at w = ${w}`).toBeLessThan(1e-12 * scale);
        }
      }
    }
    expect(fromTable).toBeGreaterThan(100);
  });
});

test("a cell holds the same numbers in whatever order it is asked", () => {
  const [one, other] = [tabulatedTails(prentice), tabulatedTails(prentice)];
  const [here, there] = [new Float64Array(6), new Float64Array(6)];
  for (const w of points) one.logSurvival(w, 0.1, here);
  other.logSurvival(1.234, -0.2, there);
  one.logSurvival(1.234, 0.1, here);
  other.logSurvival(1.234, 0.1, there);
  expect([...here]).toEqual([...there]);
});

test("a law with cheap tails stays as it is", () => {
  expect(tabulatedTails(gaussian)).toBe(gaussian);
});
