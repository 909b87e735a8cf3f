// Closed forms: Barlow & Hunter (1960) through `ageReplacement`, which passes the reference file; exponential laws by hand.
import { describe, expect, test } from "vitest";
import { ageReplacement } from "../../../analysis/decisions/ageReplacement.ts";
import { costRate } from "../../../analysis/decisions/costRate.ts";
import { redressCycle } from "../../../analysis/decisions/redressCycle.ts";
import type { ModeLaw } from "../../../analysis/decisions/redressModel.ts";

const evident = (shape: number, scale: number): ModeLaw => ({ kind: "evident", life: { shape, scale } });
const hidden = (shape: number, scale: number): ModeLaw => ({ kind: "hidden", life: { shape, scale } });
const at = (values: Float64Array, age: number): number => values[age] ?? Number.NaN;

describe("one mode that stops the job is age replacement", () => {
  test.each([1.5, 2, 3, 5])("shape %d: age and cost of the optimum", (shape) => {
    const exact = ageReplacement({ shape, scale: 400, plannedCost: 6_000, failureCost: 60_000 });
    const costs = { planned: 6_000, modes: [{ stops: 60_000, found: 0 }] };
    const numeric = costRate([evident(shape, 400)], costs, 2.5, 240);
    expect(Math.abs((numeric.optimalAge ?? 0) / (exact.optimalAge ?? 1) - 1)).toBeLessThan(1e-3);
    expect(Math.abs(numeric.leastRate / exact.costRate - 1)).toBeLessThan(1e-4);
    expect(Math.abs((numeric.runToFailure?.costRate ?? 0) / exact.runToFailureCostRate - 1)).toBeLessThan(1e-4);
  });

  // trade example, recomputed: shape 2, scale 400 h, 6,000 planned, 60,000 after a failure.
  test("at 90, 120, 150 and 200 h the cost per hour is 97.9, 91.4, 91.3 and 97.3", () => {
    const { rate } = costRate([evident(2, 400)], { planned: 6_000, modes: [{ stops: 60_000, found: 0 }] }, 2.5, 240);
    const printed = [90, 120, 150, 200].map((age) => Math.round(10 * at(rate, age / 2.5)) / 10);
    expect(printed).toEqual([97.9, 91.4, 91.3, 97.3]);
  });

  test.each([0.7, 1])("shape %d: no interval is better than running on", (shape) => {
    const costs = { planned: 6_000, modes: [{ stops: 60_000, found: 0 }] };
    expect(costRate([evident(shape, 400)], costs, 5, 240).optimalAge).toBeNull();
  });

  test("a failure that costs no more than a planned redress leaves nothing to save", () => {
    expect(
      costRate([evident(3, 400)], { planned: 10, modes: [{ stops: 10, found: 0 }] }, 5, 240).optimalAge,
    ).toBeNull();
  });
});

describe("several modes", () => {
  test("two constant rates: the faster takes its share of the stops, and the mean length is that of both", () => {
    const [fast, slow] = [1 / 200, 1 / 600];
    const cycle = redressCycle([evident(1, 200), evident(1, 600)], 2.5, 240);
    const stopped = 1 - Math.exp(-(fast + slow) * 600);
    expect(at(cycle.stops[0]!, 240)).toBeCloseTo((stopped * fast) / (fast + slow), 4);
    expect(at(cycle.stops[1]!, 240)).toBeCloseTo((stopped * slow) / (fast + slow), 4);
    expect(at(cycle.meanLength, 240) / (stopped / (fast + slow))).toBeCloseTo(1, 4);
  });

  test("a hidden mode is found with the chance that it came before the cycle ended", () => {
    const [stop, wear] = [1 / 300, 1 / 500];
    const cycle = redressCycle([evident(1, 300), hidden(1, 500)], 2.5, 160);
    // P(wear before both the stop and 400 h), by hand: integral of wear e^(-wear u) over u < min(stop, 400).
    const found = (wear / (stop + wear)) * (1 - Math.exp(-(stop + wear) * 400));
    expect(at(cycle.found[1]!, 160)).toBeCloseTo(found, 4);
    expect(at(cycle.stops[1]!, 160)).toBe(0);
  });
});

describe("a defect and the failure it leads to", () => {
  test("two constant rates in a row: the hypoexponential survival", () => {
    const [come, grow] = [1 / 300, 1 / 80];
    const law: ModeLaw = { kind: "linked", defect: { shape: 1, scale: 300 }, delay: { shape: 1, scale: 80 } };
    const { running, found } = redressCycle([law], 2.5, 240);
    for (const cell of [4, 40, 120, 240]) {
      const age = cell * 2.5;
      const survival = (grow * Math.exp(-come * age) - come * Math.exp(-grow * age)) / (grow - come);
      expect(at(running, cell)).toBeCloseTo(survival, 5);
      // Found at the planned redress: the defect is there and has not failed yet.
      expect(at(found[0]!, cell)).toBeCloseTo(survival - Math.exp(-come * age), 5);
    }
  });

  test("a delay of next to nothing is a mode that stops the job when the defect comes", () => {
    const law: ModeLaw = { kind: "linked", defect: { shape: 2, scale: 400 }, delay: { shape: 1, scale: 0.01 } };
    const [pair, alone] = [redressCycle([law], 2.5, 200), redressCycle([evident(2, 400)], 2.5, 200)];
    for (const cell of [40, 120, 200]) expect(at(pair.running, cell)).toBeCloseTo(at(alone.running, cell), 2);
  });
});
