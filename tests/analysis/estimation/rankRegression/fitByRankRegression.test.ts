import { expect, test } from "vitest";
import { AnalysisError } from "../../../../analysis/errors.ts";
import { type LifeInput, lifeSample } from "../../../../analysis/estimation/lifeSample.ts";
import { adjustedRanks } from "../../../../analysis/estimation/rankRegression/adjustedRanks.ts";
import { fitByRankRegression } from "../../../../analysis/estimation/rankRegression/fitByRankRegression.ts";
import { medianRank } from "../../../../analysis/estimation/rankRegression/medianRank.ts";

const sampleOf = (lives: readonly LifeInput[]) => lifeSample({ unit: "h", lives });
const failed = (age: number): LifeInput => ({ lower: age, upper: age });
const good = (age: number): LifeInput => ({ lower: age, upper: null });
const ranksOf = (lives: readonly LifeInput[]) => adjustedRanks(sampleOf(lives)).failures.map(({ rank }) => rank);

test("by hand: one of four ends unfailed between two failures", () => {
  // n = 4; 10 failed: 1; 20 good; 30 failed: 1 + (5 - 1) / (1 + 2) = 7/3; 40 failed: 7/3 + (5 - 7/3) / (1 + 1) = 11/3.
  const ranks = ranksOf([failed(30), failed(10), good(20), failed(40)]);
  expect(ranks).toHaveLength(3);
  for (const [i, rank] of [1, 7 / 3, 11 / 3].entries()) expect(ranks[i]).toBeCloseTo(rank, 14);
});

test("a failure at the age of a life that ended unfailed comes first, in whatever order they are written", () => {
  expect(ranksOf([good(10), failed(10), failed(20)])).toEqual(ranksOf([failed(20), failed(10), good(10)]));
  expect(ranksOf([good(10), failed(10), failed(20)])[0]).toBe(1);
});

test("a count is so many lives", () => {
  const counted = [{ ...failed(10), count: 2 }, { ...good(15), count: 3 }, failed(20)];
  const written = [failed(10), failed(10), good(15), good(15), good(15), failed(20)];
  expect(ranksOf(counted)).toEqual(ranksOf(written));
});

test("hours to days moves the scale and leaves the shape", () => {
  const ages = [54, 187, 216, 240, 386];
  const hours = fitByRankRegression(sampleOf([...ages.map(failed), good(500)]), "weibull");
  const days = fitByRankRegression(sampleOf([...ages.map((age) => failed(age / 24)), good(500 / 24)]), "weibull");
  expect(days?.shape).toBeCloseTo(hours?.shape ?? 0, 12);
  expect(days?.scale).toBeCloseTo((hours?.scale ?? 0) / 24, 10);
});

test("points laid exactly on a law give that law back", () => {
  const ages = [1, 2, 3, 4, 5].map((rank) => 100 * (-Math.log1p(-medianRank(rank, 5))) ** (1 / 2.5));
  const line = fitByRankRegression(sampleOf(ages.map(failed)), "weibull");
  expect(line?.shape).toBeCloseTo(2.5, 12);
  expect(line?.scale).toBeCloseTo(100, 10);
  expect(line?.rSquared).toBeCloseTo(1, 12);
});

test("no line through fewer than two ages of failure", () => {
  expect(fitByRankRegression(sampleOf([failed(10), good(20)]), "weibull")).toBeNull();
  expect(fitByRankRegression(sampleOf([failed(10), failed(10), good(20)]), "lognormal")).toBeNull();
  expect(fitByRankRegression(sampleOf([good(20)]), "weibull")).toBeNull();
});

const refused = (lives: readonly LifeInput[]): unknown => {
  try {
    fitByRankRegression(sampleOf(lives), "weibull");
  } catch (error) {
    return error instanceof AnalysisError ? { code: error.code, ...error.facts } : error;
  }
  return null;
};

test("what ranks cannot use is refused by name", () => {
  expect(refused([failed(10), { lower: 10, upper: 20, id: "S-7" }])).toMatchObject({
    code: "unsupported-censoring",
    life: "S-7",
    kind: "interval",
  });
  expect(refused([failed(10), { ...good(20), entry: 5, id: "S-8" }])).toMatchObject({ life: "S-8", kind: "late" });
  expect(refused([failed(10), { ...good(20), count: 1.5 }])).toMatchObject({
    code: "bad-life",
    row: 2,
    why: "not whole",
  });
  expect(refused([failed(0), good(20)])).toMatchObject({ code: "bad-life", row: 1, why: "failed at age 0" });
  expect(() => medianRank(0.5, 4)).toThrow(AnalysisError);
});
