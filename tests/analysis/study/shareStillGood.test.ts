// Lives looked at once, all near one age: the share still good is failures over lives, whatever the shape.
import { expect, test } from "vitest";
import type { Life } from "../../../analysis/lives/types.ts";
import { chiSquareQuantile } from "../../../analysis/numerics/index.ts";
import type { SettledLife } from "../../../analysis/study/settleAges.ts";
import { shareStillGood } from "../../../analysis/study/shareStillGood.ts";

const life = { id: "T1 / J1 / back-off / R1", kind: "left" } as Life;
const looked = (failed: boolean, age = 200): SettledLife => ({
  life,
  lower: failed ? 0 : age,
  lowerHigh: failed ? 0 : age,
  upper: failed ? age : null,
  upperHigh: failed ? age : null,
  entry: 0,
});

test("looked at once at 200 h, 5 of 50 failed: 0.9, with the likelihood-ratio bounds of a binomial", () => {
  const lives = [...Array.from({ length: 5 }, () => looked(true)), ...Array.from({ length: 45 }, () => looked(false))];
  const share = shareStillGood(lives, 200, 0.9);
  expect(share?.value).toBeCloseTo(0.9, 8);
  // By hand: 2 (log L(0.9) - log L(p)) at each bound is the chi-square quantile.
  const logLikelihood = (p: number) => 45 * Math.log(p) + 5 * Math.log(1 - p);
  for (const bound of [share?.lower ?? 0, share?.upper ?? 1]) {
    expect(2 * (logLikelihood(0.9) - logLikelihood(bound))).toBeCloseTo(chiSquareQuantile(0.9, 1), 6);
  }
});

test("asked at another age than the lives were looked at, the bounds hold what the shapes leave open", () => {
  const lives = [...Array.from({ length: 5 }, () => looked(true)), ...Array.from({ length: 45 }, () => looked(false))];
  const share = shareStillGood(lives, 100, 0.9);
  // Under shape 4 one sixteenth of the hazard has passed at half the age, under shape 0.5 seven tenths of it.
  const at = (shape: number) => 0.9 ** (0.5 ** shape);
  expect(share?.lower).toBeLessThan(at(0.5));
  expect(share?.upper).toBeGreaterThan(at(4));
  expect(share?.value).toBeCloseTo(at(1), 8);
});
