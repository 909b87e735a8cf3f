import { expect, test } from "vitest";
import { centreDraws } from "../../../analysis/decisions/centreDraws.ts";
import { drawByNormal, drawConstantRate, evidentOrHidden } from "../../../analysis/decisions/drawLaws.ts";
import type { ModeLaw } from "../../../analysis/decisions/redressModel.ts";
import { stopChance } from "../../../analysis/decisions/stopChance.ts";
import { randomStream } from "../../../analysis/estimation/bootstrap/randomStream.ts";

const AGE = 200;
const meanChance = (draws: readonly ModeLaw[]): number =>
  draws.reduce((sum, one) => sum + stopChance(one, { age: 0, cleanAt: 0 }, [AGE])[0]!, 0) / draws.length;

test("one failure in 4,000 h: drawn rates foretell half a failure more, centred ones what the estimate does", () => {
  const law: ModeLaw = { kind: "evident", life: { shape: 1, scale: 4_000 } };
  const draws = drawConstantRate(1, 4_000, 300, randomStream(1)).map((life) => evidentOrHidden("evident", life));
  const wanted = stopChance(law, { age: 0, cleanAt: 0 }, [AGE])[0]!;
  expect(meanChance(draws) / wanted).toBeGreaterThan(1.3);
  expect(meanChance(centreDraws(law, draws, AGE)) / wanted).toBeCloseTo(1, 1);
});

test("a defect with its failure keeps its delay; a hidden mode and draws about nothing stay as they are", () => {
  const linked: ModeLaw = { kind: "linked", defect: { shape: 2, scale: 500 }, delay: { shape: 1, scale: 80 } };
  const draws = [0.7, 0.9, 1, 1.3].map((times): ModeLaw => ({ ...linked, defect: { shape: 2, scale: 500 * times } }));
  const centred = centreDraws(linked, draws, AGE);
  expect(meanChance(centred)).toBeCloseTo(meanChance([linked]), 3);
  for (const one of centred) expect(one).toMatchObject({ delay: linked.delay });
  const hidden: ModeLaw = { kind: "hidden", life: { shape: 2, scale: 300 } };
  expect(centreDraws(hidden, [hidden], AGE)).toEqual([hidden]);
  const never: ModeLaw = { kind: "evident", life: { shape: 1, scale: Number.POSITIVE_INFINITY } };
  expect(centreDraws(never, draws, AGE)).toEqual(draws);
});

test("normal draws have the mean and the covariance of the logarithms they were asked for", () => {
  const covariance = [
    [0.04, 0.012],
    [0.012, 0.01],
  ];
  const draws = drawByNormal([Math.log(2), Math.log(400)], covariance, 4_000, randomStream(5)).map((one) =>
    one.map(Math.log),
  );
  const mean = (of: (draw: readonly number[]) => number) => draws.reduce((sum, one) => sum + of(one), 0) / draws.length;
  const [a, b] = [mean(([x = 0]) => x), mean(([, y = 0]) => y)];
  expect(a).toBeCloseTo(Math.log(2), 1);
  expect(b).toBeCloseTo(Math.log(400), 2);
  // Four standard errors of a covariance from 4,000 draws.
  expect(Math.abs(mean(([x = 0]) => (x - a) ** 2) - 0.04)).toBeLessThan(0.004);
  expect(Math.abs(mean(([x = 0, y = 0]) => (x - a) * (y - b)) - 0.012)).toBeLessThan(0.002);
});
