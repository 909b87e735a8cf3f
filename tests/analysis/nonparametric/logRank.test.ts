import { expect, test } from "vitest";
import { AnalysisError } from "../../../analysis/errors.ts";
import { cumulativeIncidence, logRank, productLimit } from "../../../analysis/nonparametric/index.ts";
import { randomLives, uniformFrom } from "../../support/nonparametric/randomLives.ts";
import { rowsOf, sampleOf } from "../../support/nonparametric/sampleOf.ts";

// By hand. Group A fails at 1 and 3, group B at 2 and 4. At risk (A, B): 2,2 / 1,2 / 1,1 / 0,1.
// Expected of A: 2/4 + 1/3 + 1/2 + 0 = 4/3; variance 1/4 + 2/9 + 1/4 + 0 = 13/18; chi-square (2 - 4/3)^2 / (13/18) = 8/13.
test("two groups of two by hand", () => {
  const result = logRank(sampleOf(rowsOf("1 3 2 4")), { group: ["A", "A", "B", "B"], scores: { A: 0, B: 1 } });
  expect(result.groups.map(({ lives, observed }) => [lives, observed])).toEqual([
    [2, 2],
    [2, 2],
  ]);
  expect(result.groups[0]?.expected).toBeCloseTo(4 / 3, 14);
  expect(result.variance[0]?.[0]).toBeCloseTo(13 / 18, 14);
  expect(result.chiSquare).toBeCloseTo(8 / 13, 13);
  expect(result.degreesOfFreedom).toBe(1);
  // With two groups the trend is the same test.
  expect(result.trend?.chiSquare).toBeCloseTo(8 / 13, 13);
});

// Freireich et al. (1963), remission times of 42 patients: observed 9 against expected 19.25, chi-square 16.79 (textbooks,
// from memory).
test("the remission trial: 9 relapses seen, 19.25 expected, chi-square 16.79", () => {
  const treated = rowsOf("6 6 6 7 10 13 16 22 23 6+ 9+ 10+ 11+ 17+ 19+ 20+ 25+ 32+ 32+ 34+ 35+");
  const control = rowsOf("1 1 2 2 3 4 4 5 5 8 8 8 8 11 11 12 12 15 17 22 23");
  const group = [...treated.map(() => "treated"), ...control.map(() => "control")];
  const { groups, chiSquare } = logRank(sampleOf([...treated, ...control]), { group });
  expect(groups[1]?.observed).toBe(9);
  expect(Math.abs((groups[1]?.expected ?? 0) - 19.25)).toBeLessThan(0.005);
  expect(Math.abs(chiSquare - 16.79)).toBeLessThan(0.005);
});

test("laws: observed and expected add up to the same; order, counts and units change nothing; one stratum is none", () => {
  for (let seed = 0; seed < 15; seed += 1) {
    const rows = randomLives(seed, { lives: 40, last: 20, kinds: ["exact", "right"], late: 0.3, counts: true });
    const uniform = uniformFrom(seed + 50);
    const group = rows.map(() => "ABC"[Math.floor(3 * uniform())] ?? "A");
    const result = logRank(sampleOf(rows), { group, rho: seed % 2 });
    const sum = (name: "observed" | "expected"): number => result.groups.reduce((total, row) => total + row[name], 0);
    expect(sum("observed")).toBeCloseTo(sum("expected"), 10);

    const reversed = logRank(sampleOf([...rows].reverse()), { group: [...group].reverse(), rho: seed % 2 });
    expect(reversed.chiSquare).toBeCloseTo(result.chiSquare, 9);
    const single = rows.flatMap((row, i) =>
      Array.from({ length: row.count ?? 1 }, () => ({ row: { ...row, count: 1 }, group: group[i] ?? "A" })),
    );
    const repeated = logRank(sampleOf(single.map(({ row }) => row)), {
      group: single.map((one) => one.group),
      rho: seed % 2,
    });
    expect(repeated.chiSquare).toBeCloseTo(result.chiSquare, 9);
    const days = rows.map((row) => ({
      ...row,
      lower: row.lower / 24,
      upper: row.upper === null ? null : row.upper / 24,
      entry: (row.entry ?? 0) / 24,
    }));
    expect(logRank(sampleOf(days), { group, rho: seed % 2 }).chiSquare).toBeCloseTo(result.chiSquare, 9);
    expect(logRank(sampleOf(rows), { group, rho: seed % 2, stratum: rows.map(() => "all") }).chiSquare).toBeCloseTo(
      result.chiSquare,
      12,
    );
  }
});

test("groups that never meet a failure together have nothing to compare", () => {
  const result = logRank(sampleOf(rowsOf("5+ 9+")), { group: ["A", "B"] });
  expect([result.chiSquare, result.degreesOfFreedom, result.pValue]).toEqual([0, 0, 1]);
});

test("one group, a list of the wrong length and a missing score are refused", () => {
  const sample = sampleOf(rowsOf("1 2"));
  expect(() => logRank(sample, { group: ["A", "A"] })).toThrowError(AnalysisError);
  expect(() => logRank(sample, { group: ["A"] })).toThrowError(AnalysisError);
  expect(() => logRank(sample, { group: ["A", "B"], stratum: ["x"] })).toThrowError(AnalysisError);
  expect(() => logRank(sample, { group: ["A", "B"], scores: { A: 1 } })).toThrowError(AnalysisError);
});

// By hand: four items, leak at 1, wear at 2, one good at 3, leak at 4. S before: 1, 3/4, 1/2, 1/2.
// Leak: 1/4, then + 1/2 * 1/1 at 4 = 3/4; wear: 3/4 * 1/3 = 1/4.
test("cumulative incidence by hand", () => {
  const curve = cumulativeIncidence(sampleOf(rowsOf("1 2 3+ 4")), { mode: ["leak", "wear", null, "leak"] });
  expect(curve.modes).toEqual(["leak", "wear"]);
  const incidence = curve.steps.map((step) => step.byMode.map((mode) => mode.incidence));
  [
    [1 / 4, 0],
    [1 / 4, 1 / 4],
    [3 / 4, 1 / 4],
  ].forEach((expected, at) => {
    expected.forEach((value, j) => {
      expect(incidence[at]?.[j]).toBeCloseTo(value, 14);
    });
  });
  expect(curve.steps.map((step) => step.survival).at(-1)).toBe(0);
});

test("incidences and survival add up to 1; one mode alone is one minus the product-limit", () => {
  const rows = randomLives(4, { lives: 60, last: 25, kinds: ["exact", "exact", "right"], late: 0.2, counts: true });
  const mode = rows.map((row, i) => (row.upper === null ? null : i % 3 === 0 ? "leak" : "wear"));
  const curve = cumulativeIncidence(sampleOf(rows), { mode });
  for (const { survival, byMode } of curve.steps) {
    expect(byMode.reduce((sum, { incidence }) => sum + incidence, survival)).toBeCloseTo(1, 12);
    for (const { lower, incidence, upper } of byMode) {
      expect(lower).toBeLessThanOrEqual(incidence);
      expect(upper).toBeGreaterThanOrEqual(incidence);
    }
  }
  const alone = cumulativeIncidence(sampleOf(rows), { mode: mode.map((name) => (name === null ? null : "any")) });
  const greenwood = productLimit(sampleOf(rows)).steps;
  alone.steps.forEach(({ byMode: [any] }, at) => {
    const step = greenwood[at];
    expect(any?.incidence).toBeCloseTo(1 - (step?.survival ?? Number.NaN), 12);
    if (step?.standardError != null) expect(any?.standardError).toBeCloseTo(step.standardError, 12);
  });
});

test("a mode for a life that did not fail, or none for one that did, is refused", () => {
  const sample = sampleOf(rowsOf("1 2+"));
  expect(() => cumulativeIncidence(sample, { mode: ["leak", "leak"] })).toThrowError(AnalysisError);
  expect(() => cumulativeIncidence(sample, { mode: [null, null] })).toThrowError(AnalysisError);
  expect(() => cumulativeIncidence(sample, { mode: ["leak"] })).toThrowError(AnalysisError);
});
