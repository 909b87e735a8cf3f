// The forecast against closed forms, within four Monte Carlo errors; the shelf by hand.
import { describe, expect, test } from "vitest";
import { countOfFailures } from "../../../analysis/decisions/countOfFailures.ts";
import { forecastUse, type ToolGroup, type ToolInUse } from "../../../analysis/decisions/forecastUse.ts";
import type { ModeLaw } from "../../../analysis/decisions/redressModel.ts";
import { shelfStock } from "../../../analysis/decisions/shelfStock.ts";
import { stopChance } from "../../../analysis/decisions/stopChance.ts";

const evident = (shape: number, scale: number): ModeLaw => ({ kind: "evident", life: { shape, scale } });
const group = (laws: readonly ModeLaw[], tools: readonly ToolInUse[], change: Partial<ToolGroup> = {}): ToolGroup => ({
  tools,
  draws: [laws],
  itemOf: laws.map(() => 0),
  runs: [10],
  chanceAt: () => 0,
  renewedShare: [1],
  kitShare: [1],
  ...change,
});
const tool = (age: number, cleanAt = 0): ToolInUse => ({
  states: [{ age, cleanAt }],
  hoursSinceRedress: age,
  hoursPerMonth: 40,
  planned: [],
});
const totals = (counts: readonly Uint16Array[]): number[] => counts.map((one) => one.reduce((a, b) => a + b, 0));
const meanOf = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
const errorOf = (values: readonly number[]): number => {
  const mean = meanOf(values);
  return Math.sqrt(meanOf(values.map((one) => (one - mean) ** 2)) / values.length);
};

describe("closed forms", { timeout: 60_000 }, () => {
  test("a constant rate: a Poisson count with mean hours over scale, whatever the ages", () => {
    const tools = Array.from({ length: 20 }, (_, at) => tool(at * 30));
    const { failures, redresses, kits } = forecastUse({
      groups: [group([evident(1, 500)], tools)],
      months: 12,
      futures: 400,
      seed: 3,
    });
    const counts = totals(failures);
    // 20 tools, 12 months of 40 h.
    const expected = (20 * 12 * 40) / 500;
    expect(Math.abs(meanOf(counts) - expected) / errorOf(counts)).toBeLessThan(4);
    const variance = errorOf(counts) ** 2 * counts.length;
    expect(variance / expected).toBeGreaterThan(0.75);
    expect(variance / expected).toBeLessThan(1.3);
    expect(totals(redresses)).toEqual(counts);
    expect(totals(kits[0]![0]!)).toEqual(counts);
  });

  test("one planned run each: the count of independent chances given age and last clean look", () => {
    const law: ModeLaw = { kind: "linked", defect: { shape: 2.4, scale: 300 }, delay: { shape: 1.3, scale: 90 } };
    const states = [
      { age: 150, cleanAt: 0 },
      { age: 220, cleanAt: 100 },
      { age: 260, cleanAt: 260 },
    ];
    const tools = states.map(
      (state): ToolInUse => ({
        states: [state],
        hoursSinceRedress: state.age,
        hoursPerMonth: 0,
        planned: [{ month: 0, hours: 80 }],
      }),
    );
    const { failures } = forecastUse({ groups: [group([law], tools)], months: 1, futures: 4_000, seed: 9 });
    const exact = countOfFailures(states.map((state) => stopChance(law, state, [80])[0]!));
    const counts = totals(failures);
    for (const k of [0, 1, 2]) {
      const share = counts.filter((count) => count === k).length / counts.length;
      const error = Math.sqrt((exact.probabilities[k]! * (1 - exact.probabilities[k]!)) / counts.length);
      expect(Math.abs(share - exact.probabilities[k]!) / error).toBeLessThan(4);
    }
  });

  test("laws that are not known widen the forecast", () => {
    const tools = Array.from({ length: 20 }, () => tool(0));
    const known = forecastUse({ groups: [group([evident(1, 500)], tools)], months: 12, futures: 300, seed: 1 });
    const draws = [250, 400, 500, 700, 1500].map((scale) => [evident(1, scale)]);
    const unknown = forecastUse({
      groups: [group([evident(1, 500)], tools, { draws })],
      months: 12,
      futures: 300,
      seed: 1,
    });
    expect(errorOf(totals(unknown.failures))).toBeGreaterThan(1.5 * errorOf(totals(known.failures)));
  });
});

test("the shelf: 95 of 100 futures use at most 8; with 6 on hand 2 are to order and one in ten futures runs short", () => {
  const demand = [...Array(90).fill(5), ...Array(5).fill(8), ...Array(5).fill(11)] as number[];
  expect(shelfStock(demand, 6, 0.95)).toEqual({ expected: 5.45, enough: 8, shortChance: 0.1, toOrder: 2 });
  expect(shelfStock(demand, null, 0.95)).toMatchObject({ shortChance: null, toOrder: null });
  expect(shelfStock(demand, 20, 0.95)).toMatchObject({ shortChance: 0, toOrder: 0 });
});
