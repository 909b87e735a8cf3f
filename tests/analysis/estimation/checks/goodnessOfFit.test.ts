import { expect, test } from "vitest";
import { weibull } from "../../../../analysis/distributions/weibull.ts";
import { randomStream } from "../../../../analysis/estimation/bootstrap/randomStream.ts";
import { endsOfFollowing } from "../../../../analysis/estimation/checks/endsOfFollowing.ts";
import { goodnessOfFit, weibullFamily } from "../../../../analysis/estimation/checks/goodnessOfFit.ts";
import { lookSchedules } from "../../../../analysis/estimation/checks/lookSchedule.ts";
import { selfConsistentDistance } from "../../../../analysis/estimation/checks/selfConsistentDistance.ts";
import { lifeSimulator } from "../../../../analysis/estimation/checks/simulateLives.ts";
import { fitWeibull } from "../../../../analysis/estimation/fitWeibull.ts";
import { type LifeInput, lifeSample } from "../../../../analysis/estimation/lifeSample.ts";
import { failed, found, running } from "../../../support/estimation/found.ts";
import { randomLives, weibullAge } from "../../../support/estimation/randomLives.ts";

const sampleOf = (lives: readonly LifeInput[]) => lifeSample({ unit: "h", lives });

/** A^2 = -n - sum (2i - 1) / n [log u_(i) + log(1 - u_(n + 1 - i))], Anderson & Darling (1954). */
function andersonDarling(u: readonly number[]): number {
  const sorted = [...u].sort((a, b) => a - b);
  const n = sorted.length;
  return (
    -n - sorted.reduce((sum, v, i) => sum + ((2 * i + 1) / n) * (Math.log(v) + Math.log1p(-sorted[n - 1 - i]!)), 0)
  );
}

test("with exact lives only, the distance is the Anderson-Darling statistic", () => {
  const random = randomStream(4).uniform;
  const law = weibull({ shape: 1.7, scale: 300 });
  for (const n of [8, 25, 80]) {
    const ages = Array.from({ length: n }, () => weibullAge(random, 1.3, 320));
    const expected = andersonDarling(ages.map((age) => law.failedFraction(age)));
    expect(Math.abs(selfConsistentDistance(sampleOf(failed(...ages)), law) / expected - 1)).toBeLessThan(0.03);
  }
});

// By hand: one life sound at its median. P(V <= v | V > 1/2) - v is -v below 1/2 and v - 1 above, so
// A = integral of v / (1 - v) over (0, 1/2) twice = 2 (log 2 - 1/2).
test("one life sound at the median, one entered at the median and failed later", () => {
  const law = weibull({ shape: 1, scale: 1 });
  const median = Math.LN2;
  expect(selfConsistentDistance(sampleOf(running(median)), law)).toBeCloseTo(2 * (Math.LN2 - 0.5), 2);
  // Entered at the median and still sound at once after: nothing was learnt.
  expect(selfConsistentDistance(sampleOf([{ lower: median, upper: null, entry: median }]), law)).toBeCloseTo(0, 12);
});

// Stephens, in D'Agostino & Stephens (1986), Goodness-of-Fit Techniques, table 4.17 (from memory): with both parameters estimated,
// A^2 (1 + 0.2 / sqrt n) exceeds 0.637 with probability 0.10 and 0.757 with 0.05.
test("simulated from a Weibull law and fitted, the distance passes the published 10 % and 5 % points that often", () => {
  const simulate = lifeSimulator(lookSchedules(sampleOf(failed(...Array.from({ length: 40 }, (_, i) => i + 1)))));
  const law = weibull({ shape: 2, scale: 100 });
  const random = randomStream(9);
  const runs = 1_200;
  let [above10, above5] = [0, 0];
  for (let run = 0; run < runs; run++) {
    const lives = simulate(law, random);
    const fit = fitWeibull(lives);
    if (fit.maximum !== "found") throw new Error(fit.maximum);
    const modified = selfConsistentDistance(lives, weibull(fit)) * (1 + 0.2 / Math.sqrt(40));
    if (modified > 0.637) above10++;
    if (modified > 0.757) above5++;
  }
  // Three Monte Carlo errors: 0.026 and 0.019.
  expect(Math.abs(above10 / runs - 0.1)).toBeLessThan(0.026);
  expect(Math.abs(above5 / runs - 0.05)).toBeLessThan(0.019);
});

test("lives of two patterns mixed are told from one law; lives of one law are not", () => {
  const random = randomStream(12).uniform;
  const mixed = failed(
    ...Array.from({ length: 60 }, (_, i) => (i < 20 ? weibullAge(random, 3, 20) : weibullAge(random, 3, 500))),
  );
  const bad = found(mixed);
  expect(goodnessOfFit(bad.sample, weibullFamily(bad.fit), { seed: 1, simulations: 99 }).pValue).toBeLessThan(0.02);
  for (const mix of ["exact and right", "between looks", "truncated", "ranged"] as const) {
    const good = found(randomLives(40, 61, mix).slice(1));
    const { pValue, withoutMaximum } = goodnessOfFit(good.sample, weibullFamily(good.fit), {
      seed: 1,
      simulations: 99,
    });
    expect(pValue).toBeGreaterThan(0.03);
    expect(withoutMaximum).toBe(0);
  }
});

test("p is uniform under the law for lives that looks find: one in five lies below 0.2", () => {
  const schedule = Array.from({ length: 6 }, (_, i) => 60 * (i + 1));
  const looks = Array.from({ length: 40 }, () => schedule);
  let below = 0;
  const runs = 60;
  for (let run = 0; run < runs; run++) {
    const random = randomStream(1_000 + run).uniform;
    const lives = looks.map((): LifeInput => {
      const age = weibullAge(random, 1.8, 300);
      const upper = schedule.find((look) => look >= age);
      return upper === undefined ? { lower: 360, upper: null } : { lower: upper - 60, upper };
    });
    const { sample, fit } = found(lives);
    const seen = lives.map(({ lower, upper }) => schedule.filter((look) => look <= (upper ?? lower)));
    if (goodnessOfFit(sample, weibullFamily(fit), { seed: run, simulations: 39, looks: seen }).pValue <= 0.2) below++;
  }
  // Three Monte Carlo errors: 0.155.
  expect(Math.abs(below / runs - 0.2)).toBeLessThan(0.155);
});

test("ends of following: the product limit with failure and end turned round, by hand", () => {
  // Ends at 2 and 4, failures at 3 and 5: S(2) = 3/4, S(4) = 3/4 * 1/2 = 3/8, the rest beyond.
  const sample = sampleOf([...running(2, 4), ...failed(3, 5)]);
  const draw = endsOfFollowing(lookSchedules(sample).lives);
  expect([0.1, 0.24, 0.26, 0.6, 0.63, 0.9].map((u) => draw(0, u))).toEqual([
    2,
    2,
    4,
    4,
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
  ]);
  // Given that it lies beyond 3: 4 with probability 1/2.
  expect([0.49, 0.51].map((u) => draw(3, u))).toEqual([4, Number.POSITIVE_INFINITY]);
});

test("a simulated life keeps its entry, its looks and its end", () => {
  const lives: LifeInput[] = [
    { lower: 100, upper: 150, entry: 50 },
    { lower: 300, upper: null },
    { lower: 200, upper: 260, lowerHigh: 220, upperHigh: 286 },
  ];
  const schedules = lookSchedules(sampleOf(lives), [[100, 150], [80, 190, 300], null]);
  expect(schedules.lives[1]!.looks).toEqual([80, 190, 300]);
  const simulate = lifeSimulator(schedules);
  const random = randomStream(3);
  for (let run = 0; run < 200; run++) {
    const one = simulate(weibull({ shape: 1.2, scale: 200 }), random);
    expect(one.entry[0]).toBe(50);
    expect([0, 80, 190, 300]).toContain(one.lower[1]);
    expect([80, 190, 300, Number.POSITIVE_INFINITY]).toContain(one.upper[1]);
    expect(one.lower[0]! >= 50 && one.upper[0]! > one.lower[0]!).toBe(true);
    if (one.upper[2] !== Number.POSITIVE_INFINITY) expect(one.upperHigh[2]! / one.upper[2]!).toBeCloseTo(1.1, 10);
  }
});

test("the same seed gives the same p; what was drawn or assumed is said; too few simulations are refused", () => {
  const { sample, fit } = found(randomLives(6, 20, "between looks"));
  const run = () => goodnessOfFit(sample, weibullFamily(fit), { seed: 2, simulations: 19 });
  expect(run()).toEqual(run());
  expect(run().notices.map(({ code }) => code)).toEqual(["follow-up-drawn", "looks-assumed"]);
  expect(() => goodnessOfFit(sample, weibullFamily(fit), { seed: 1, simulations: 5 })).toThrowError(/simulations/);
});
