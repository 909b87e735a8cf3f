// The parts of the screen: laws, values worked by hand, published formulas.
import { describe, expect, test } from "vitest";
import { lifeSample } from "../../../../analysis/estimation/lifeSample.ts";
import { fitLinked } from "../../../../analysis/estimation/linked/fitLinked.ts";
import { linkedLikelihood } from "../../../../analysis/estimation/linked/linkedLikelihood.ts";
import type { LinkedHistory } from "../../../../analysis/estimation/linked/types.ts";
import { bentMultiplier } from "../../../../analysis/practice/screen/bentMultiplier.ts";
import { imputedMultiplier } from "../../../../analysis/practice/screen/imputedMultiplier.ts";
import { lifeFitter } from "../../../../analysis/practice/screen/lifeFitter.ts";
import { lifeMultiplier } from "../../../../analysis/practice/screen/lifeMultiplier.ts";
import { linkedFitter } from "../../../../analysis/practice/screen/linkedFitter.ts";
import { lotsOnWatch } from "../../../../analysis/practice/screen/lotsOnWatch.ts";
import { memorylessDelay } from "../../../../analysis/practice/screen/memorylessDelay.ts";
import { selectedConfidence } from "../../../../analysis/practice/screen/selectedConfidence.ts";
import { verdictOf } from "../../../../analysis/practice/screen/verdict.ts";
import { weightedLeastSquares } from "../../../../analysis/practice/screen/weightedLeastSquares.ts";
import { type Companion, whatElseDiffered } from "../../../../analysis/practice/screen/whatElseDiffered.ts";
import { seeded } from "../../../support/chartFixtures/common.ts";

const column = (name: string, values: ArrayLike<number>) => ({ name, values: Float64Array.from(values) });

/** Weibull lives, all failed: T = scale exp(b x) E^(1 / shape). */
function lives(seed: number, n: number, b: number, shape = 2, censorAt = Number.POSITIVE_INFINITY) {
  const random = seeded(seed);
  const x = Float64Array.from({ length: n }, () => random());
  const ages = Array.from(x, (value) => 300 * Math.exp(b * value) * (-Math.log(1 - random())) ** (1 / shape));
  const sample = lifeSample({
    unit: "h",
    lives: ages.map((age, i) =>
      age < censorAt
        ? { id: `L${i}`, lower: age, upper: age, entry: 0 }
        : { id: `L${i}`, lower: censorAt, upper: null, entry: 0 },
    ),
  });
  return { x, sample, serials: ages.map((_, i) => `S${i % 30}`) };
}

describe("weighted least squares", () => {
  test("y 1, 2, 4 on x 0, 1, 2: fitted 5/6, 7/3, 23/6, and 1/28 of the spread left, by hand", () => {
    const { fitted, shareLeft } = weightedLeastSquares(
      Float64Array.of(1, 2, 4),
      [Float64Array.of(0, 1, 2)],
      Float64Array.of(1, 1, 1),
    );
    expect(Array.from(fitted)).toEqual([5 / 6, 7 / 3, 23 / 6].map((value) => expect.closeTo(value, 12)));
    expect(shareLeft).toBeCloseTo(1 / 28, 12);
  });

  test("a column that is the sum of others changes nothing; a row of weight 0 is predicted and not used", () => {
    const random = seeded(3);
    const draw = () => Float64Array.from({ length: 40 }, random);
    const [y, a, b] = [draw(), draw(), draw()];
    const weights = draw();
    weights[5] = 0;
    const sum = a.map((value, i) => value + b[i]!);
    const one = weightedLeastSquares(y, [a, b], weights);
    const two = weightedLeastSquares(y, [a, b, sum], weights);
    expect(two.shareLeft).toBeCloseTo(one.shareLeft, 12);
    const moved = Float64Array.from(y);
    moved[5] = 1e6;
    expect(weightedLeastSquares(moved, [a, b], weights).fitted[5]).toBeCloseTo(one.fitted[5]!, 9);
  });
});

describe("what else differed", () => {
  const crew = (names: readonly string[]): Companion => ({ what: "technician", values: names });
  const weights = new Float64Array(80).fill(1);

  test("a practice that a crew does always and another never has no share of its own", () => {
    const names = Array.from({ length: 80 }, (_, i) => `crew ${i % 4}`);
    const practice = Float64Array.from(names, (name) => (name < "crew 2" ? 1 : 0));
    const { shareLeft, explained } = whatElseDiffered(practice, [crew(names)], weights);
    expect(shareLeft).toBe(0);
    expect(explained[0]).toEqual({ what: "technician", share: 1 });
  });

  test("a practice dealt out by chance keeps about all of its spread, however many crews there are", () => {
    const random = seeded(9);
    const shares = Array.from({ length: 200 }, () => {
      const names = Array.from({ length: 80 }, () => `crew ${Math.floor(6 * random())}`);
      return whatElseDiffered(Float64Array.from({ length: 80 }, random), [crew(names)], weights).shareLeft;
    });
    const mean = shares.reduce((sum, share) => sum + share, 0) / shares.length;
    expect(mean).toBeGreaterThan(0.97);
    expect(mean).toBeLessThanOrEqual(1);
  });

  test("what is held first stands first: with sixteen lives two columns fit, the third companion is left out", () => {
    const few = (what: string, at: number): Companion => ({
      what,
      values: Array.from({ length: 16 }, (_, i) => Math.sin(i * at)),
    });
    const practice = Float64Array.from({ length: 16 }, (_, i) => i % 5);
    const order = [few("first", 1), few("second", 2), few("third", 3)];
    const { explained } = whatElseDiffered(practice, order, new Float64Array(16).fill(1));
    expect(explained.map(({ what }) => what).sort()).toEqual(["first", "second"]);
  });
});

describe("the multiplier of life", () => {
  test("tells a planted halving of life, and holds the practice's share apart from its companion", () => {
    const { x, sample, serials } = lives(11, 400, Math.log(0.5));
    const one = lifeMultiplier(lifeFitter(sample, serials), [column("x", x)], 1, 30)!;
    const bounds = one.at(0.99);
    expect(bounds.lower).toBeLessThan(0.5);
    expect(bounds.upper).toBeGreaterThan(0.5);
    expect(one.pValue).toBeLessThan(1e-6);
  });

  test("turned round, the step gives the reciprocal multiplier with reciprocal bounds and the same test", () => {
    const { x, sample, serials } = lives(12, 120, -0.3, 1.5, 350);
    const fitter = lifeFitter(sample, serials);
    const [there, back] = [1, -1].map((step) => lifeMultiplier(fitter, [column("x", x)], step, 30)!);
    const [a, b] = [there!.at(0.9), back!.at(0.9)];
    expect(b.value).toBeCloseTo(1 / a.value, 10);
    expect(b.lower).toBeCloseTo(1 / (a.upper ?? Number.NaN), 8);
    expect(b.upper).toBeCloseTo(1 / (a.lower ?? Number.NaN), 8);
    expect(back!.pValue).toBe(there!.pValue);
  });

  test("the bounds meet the test: at confidence 1 - p one end is 1", () => {
    const { x, sample, serials } = lives(13, 90, -0.5, 2, 300);
    const one = lifeMultiplier(lifeFitter(sample, serials), [column("x", x)], 1, 30)!;
    const { lower, upper } = one.at(1 - one.pValue);
    expect(Math.min(Math.abs((lower ?? 9) - 1), Math.abs((upper ?? 9) - 1))).toBeLessThan(1e-6);
  });

  test("where every life of a tool stands twice, the bounds do not shrink", () => {
    const { x, sample, serials } = lives(14, 90, -0.4, 2, 320);
    const rows = Array.from(x, (_, i) => i);
    const twice = lifeSample({
      unit: "h",
      lives: [...rows, ...rows].map((i, at) => ({
        id: `${at}`,
        lower: sample.lower[i]!,
        upper: sample.upper[i] === Number.POSITIVE_INFINITY ? null : sample.upper[i]!,
        entry: 0,
      })),
    });
    const names = rows.map((i) => `tool ${i}`);
    const width = (of: typeof sample, values: ArrayLike<number>, tools: readonly string[]) => {
      const { lower, upper } = lifeMultiplier(lifeFitter(of, tools), [column("x", values)], 1, 90)!.at(0.9);
      return Math.log((upper ?? 1) / (lower ?? 1));
    };
    const once = width(
      sample,
      x,
      serials.map((_, i) => `tool ${i}`),
    );
    // Taken as 180 lives they would shrink to 0.71 of it.
    expect(width(twice, [...x, ...x], [...names, ...names])).toBeGreaterThan(0.82 * once);
  });

  test("a group without a failure has no multiplier", () => {
    const { sample, serials } = lives(15, 40, 0, 2, 200);
    const group = Float64Array.from({ length: 40 }, (_, i) => (sample.upper[i] === Number.POSITIVE_INFINITY ? 1 : 0));
    expect(lifeMultiplier(lifeFitter(sample, serials), [column("x", group)], 1, 30)).toBeNull();
  });

  test("a straight effect shows no bend; life that falls off on both sides shows one, longest near the middle", () => {
    const straight = lives(16, 300, -0.8);
    const bend = bentMultiplier(lifeFitter(straight.sample, straight.serials), straight.x, 0.5, [], 0.9, 1)!;
    expect(bend.straightPValue).toBeGreaterThan(0.05);
    const at = bend.at.findIndex((value) => value >= 0.5);
    expect(bend.value[at]).toBeCloseTo(1, 1);

    const random = seeded(17);
    const x = Float64Array.from({ length: 400 }, () => random());
    const sample = lifeSample({
      unit: "h",
      lives: Array.from(x, (value, i) => {
        const age = 300 * Math.exp(-6 * (value - 0.5) ** 2) * (-Math.log(1 - random())) ** 0.5;
        return { id: `${i}`, lower: age, upper: age, entry: 0 };
      }),
    });
    const hump = bentMultiplier(
      lifeFitter(
        sample,
        Array.from(x, (_, i) => `S${i}`),
      ),
      x,
      0.5,
      [],
      0.9,
      1,
    )!;
    expect(hump.straightPValue).toBeLessThan(1e-6);
    const best = hump.at[hump.value.indexOf(Math.max(...hump.value))]!;
    expect(Math.abs(best - 0.5)).toBeLessThan(0.15);
  });

  test("numbers missing by chance and filled in give about the multiplier of all lives, with wider bounds than these", () => {
    const { x, sample, serials } = lives(18, 300, Math.log(0.5));
    const random = seeded(19);
    const holes = x.map((value) => (random() < 0.25 ? Number.NaN : value));
    const fitter = lifeFitter(sample, serials);
    const outcome = [
      Float64Array.from(sample.lower, (age) => Math.log(age)),
      Float64Array.from(sample.lower, (age) => age / 300),
    ];
    const filled = imputedMultiplier({
      fitter,
      values: holes,
      predictors: outcome,
      held: () => [],
      step: 1,
      confidence: 0.9,
      seed: 1,
    })!;
    const whole = lifeMultiplier(fitter, [column("x", x)], 1, 30)!.at(0.9);
    expect(Math.abs(Math.log(filled.value / whole.value))).toBeLessThan(0.15);
    const width = ({ lower, upper }: { lower: number | null; upper: number | null }) =>
      Math.log((upper ?? 1) / (lower ?? 1));
    expect(width(filled)).toBeGreaterThan(width(whole));
  });
});

describe("a defect that leads to a failure", () => {
  /** Looked at every 150 h, or when the failure shows; defect Weibull (2.4, scale exp(b x)), delay exponential 90 h. */
  function shop(seed: number, n: number, b: number): { histories: LinkedHistory[]; x: Float64Array } {
    const random = seeded(seed);
    const x = Float64Array.from({ length: n }, () => (random() < 0.5 ? 1 : 0));
    const histories = Array.from(x, (value): LinkedHistory => {
      const defect = 420 * Math.exp(b * value) * (-Math.log(1 - random())) ** (1 / 2.4);
      const failure = defect - 90 * Math.log(1 - random());
      const last = 150 * (1 + Math.floor(3 * random()));
      const clean = Math.floor(defect / 150) * 150;
      if (clean >= last) return { defect: { from: last, to: null }, failure: { from: last, to: null }, entry: 0 };
      const end = Math.min(failure, clean + 150);
      return {
        defect: { from: clean, to: end },
        failure: failure <= end ? { from: failure, to: failure } : { from: end, to: null },
        entry: 0,
      };
    });
    return { histories, x };
  }

  test("without columns the regression is the joint fit with a memoryless delay: a top of that likelihood", () => {
    const { histories } = shop(21, 120, 0);
    const base = memorylessDelay(histories)!;
    const fit = linkedFitter(
      histories,
      histories.map((_, i) => `S${i}`),
      base,
    )([])!;
    const at = linkedLikelihood(histories, Float64Array.from(base.theta));
    expect(fit.logLikelihood).toBeCloseTo(at[0]!, 6);
    for (const slope of [at[1]!, at[2]!, at[4]!]) expect(Math.abs(slope)).toBeLessThan(1e-3);
    const free = fitLinked(histories);
    expect(free.maximum === "found" && free.logLikelihood).toBeGreaterThanOrEqual(fit.logLikelihood - 1e-6);
  });

  test("a planted 0.6 is covered at 90 % in 60 shops about nine times in ten", {
    timeout: 60_000,
  }, () => {
    let covered = 0;
    let middle = 0;
    for (let seed = 0; seed < 60; seed++) {
      const { histories, x } = shop(100 + seed, 160, Math.log(0.6));
      const base = memorylessDelay(histories);
      const serials = histories.map((_, i) => `S${i}`);
      const one = base && lifeMultiplier(linkedFitter(histories, serials, base), [column("x", x)], 1, serials.length);
      const { value, lower, upper } = one?.at(0.9) ?? { value: 1, lower: 1, upper: 1 };
      if ((lower ?? 0) <= 0.6 && (upper ?? 9) >= 0.6) covered++;
      middle += Math.log(value) / 60;
    }
    // Binomial (60, 0.9): 47 or fewer in 1.5 %.
    expect(covered).toBeGreaterThanOrEqual(48);
    expect(Math.abs(middle - Math.log(0.6))).toBeLessThan(0.06);
  });

  test("days instead of hours leave the multiplier as it is", () => {
    const { histories, x } = shop(31, 120, -0.4);
    const inDays = histories.map(({ defect, failure, entry }) => {
      const day = ({ from, to }: { from: number; to: number | null }) => ({
        from: from / 24,
        to: to === null ? null : to / 24,
      });
      return { defect: day(defect), failure: day(failure), entry: entry / 24 };
    });
    const value = (of: readonly LinkedHistory[]) =>
      lifeMultiplier(
        linkedFitter(
          of,
          of.map((_, i) => `S${i}`),
          memorylessDelay(of)!,
        ),
        [column("x", x)],
        1,
        of.length,
      )!.value;
    expect(value(inDays)).toBeCloseTo(value(histories), 4);
  });
});

describe("picking and reading", () => {
  test("bounds of 3 picked out of 60 at 90 % are taken at 99.5 %: 1 - 3 x 0.1 / 60", () => {
    expect(selectedConfidence(0.9, 3, 60)).toBeCloseTo(0.995, 12);
    expect(selectedConfidence(0.9, 60, 60)).toBeCloseTo(0.9, 12);
  });

  test("nine failures are too few, a seventh of the spread cannot tell, and only a claim is a difference", () => {
    const usual = { failures: 40, shareLeft: 0.8, value: 0.5, claimed: true };
    expect(verdictOf(usual)).toBe("shorter life");
    expect(verdictOf({ ...usual, value: 2 })).toBe("longer life");
    expect(verdictOf({ ...usual, claimed: false })).toBe("no difference shown yet");
    expect(verdictOf({ ...usual, shareLeft: 1 / 7 })).toBe("cannot tell");
    expect(verdictOf({ ...usual, value: null })).toBe("cannot tell");
    expect(verdictOf({ ...usual, failures: 9 })).toBe("too few failures");
  });

  test("3 of 4 failures in a lot with a quarter of what was expected: 13/256, by hand", () => {
    const lot = (name: string, failures: number, expected: number) => ({ lot: name, lives: 10, failures, expected });
    const [own] = lotsOnWatch([[lot("A", 3, 1), lot("B", 1, 2), lot("C", 0, 1)]], 0.05);
    // P(3 or 4 of 4, each with 1/4) = 4 (1/4)^3 (3/4) + (1/4)^4 = 13/256; of B 1 - (1/2)^4 = 15/16.
    expect(own!.map(({ pValue }) => pValue)).toEqual([13 / 256, 15 / 16, 1].map((value) => expect.closeTo(value, 12)));
    expect(own!.map(({ isOnWatch }) => isOnWatch)).toEqual([false, false, false]);
  });

  test("over a thousand lots without a bad one a lot is on watch in about one shop in twenty at most", () => {
    const random = seeded(41);
    let alarms = 0;
    for (let shop = 0; shop < 200; shop++) {
      const failures = Array.from({ length: 20 }, () => 0);
      for (let failure = 0; failure < 60; failure++) failures[Math.floor(20 * random())]!++;
      const lots = failures.map((count, i) => ({ lot: `${i}`, lives: 12, failures: count, expected: 3 }));
      if (lotsOnWatch([lots], 0.05)[0]!.some(({ isOnWatch }) => isOnWatch)) alarms++;
    }
    expect(alarms).toBeLessThanOrEqual(18);
  });
});
