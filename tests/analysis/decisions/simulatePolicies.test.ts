// The simulation of whole runs against closed forms, each within four Monte Carlo errors of it (once in 16,000 by chance).
import { describe, expect, test } from "vitest";
import { ageReplacement } from "../../../analysis/decisions/ageReplacement.ts";
import { cycleCost, redressCycle } from "../../../analysis/decisions/redressCycle.ts";
import type { ModeLaw, RedressCosts } from "../../../analysis/decisions/redressModel.ts";
import {
  type PolicyOutcome,
  type PolicySimulation,
  type Simulated,
  simulatePolicies,
} from "../../../analysis/decisions/simulatePolicies.ts";

const evident = (shape: number, scale: number): ModeLaw => ({ kind: "evident", life: { shape, scale } });
const base: PolicySimulation = {
  laws: [evident(2, 400)],
  itemOf: [0],
  costs: { planned: 6, modes: [{ stops: 60, found: 0 }] },
  openingShare: 1,
  runs: [1],
  policies: [],
  histories: 200,
  hours: 8_000,
  seed: 11,
};
const within = ({ value, error }: Simulated, exact: number): void => {
  expect(error).toBeGreaterThan(0);
  expect(Math.abs(value - exact) / error, `${value} against ${exact}, error ${error}`).toBeLessThan(4);
};
const simulate = (change: Partial<PolicySimulation>): PolicyOutcome[] => simulatePolicies({ ...base, ...change });

describe("closed forms", { timeout: 60_000 }, () => {
  test("one mode, runs of an hour: age replacement at its optimum, and running to failure", () => {
    const exact = ageReplacement({ shape: 2, scale: 400, plannedCost: 6, failureCost: 60 });
    const interval = Math.round(exact.optimalAge ?? 0);
    const [whole, never] = simulate({ policies: [{ kind: "whole", interval }, { kind: "never" }] });
    // A history starts new and ends in mid-cycle: over 8,000 h that is worth less than a Monte Carlo error.
    within(whole!.cost, 1000 * exact.costRate);
    within(never!.cost, 1000 * exact.runToFailureCostRate);
    within(never!.failures, 1000 / (400 * Math.sqrt(Math.PI / 4)));
  });

  test("a constant rate: failures per 1,000 h do not depend on the policy", () => {
    const outcomes = simulate({
      laws: [evident(1, 250)],
      policies: [{ kind: "never" }, { kind: "whole", interval: 50 }, { kind: "block", interval: 120 }],
    });
    for (const { failures } of outcomes) within(failures, 4);
  });

  test("block replacement of a constant rate: cp / T + cf / scale", () => {
    const [block] = simulate({ laws: [evident(1, 250)], policies: [{ kind: "block", interval: 100 }] });
    within(block!.cost, 1000 * (6 / 100 + 60 / 250));
  });

  test("a defect and the failure it leads to: the delay-time cycle, what is found included", () => {
    const law: ModeLaw = { kind: "linked", defect: { shape: 2.4, scale: 480 }, delay: { shape: 1.3, scale: 90 } };
    const costs: RedressCosts = { planned: 6, modes: [{ stops: 60, found: 3 }] };
    const cycle = redressCycle([law], 1, 200);
    const rate = cycleCost(cycle, costs)[200]! / cycle.meanLength[200]!;
    const [whole] = simulate({ laws: [law], costs, policies: [{ kind: "whole", interval: 200 }] });
    within(whole!.cost, 1000 * rate);
    within(whole!.failures, (1000 * cycle.stops[0]![200]!) / cycle.meanLength[200]!);
  });
});

describe("whole runs", { timeout: 60_000 }, () => {
  test("runs of one length: before the run that would pass 100 h is at the return at 80 h, to the last figure", () => {
    const [ahead, whole] = simulate({
      runs: [40],
      policies: [
        { kind: "ahead", interval: 100 },
        { kind: "whole", interval: 80 },
      ],
    });
    expect(ahead).toEqual({ ...whole, costAgainstFirst: { value: 0, error: 0 } });
    expect(whole!.costAgainstFirst.value).toBe(0);
  });

  test("runs of many lengths: nobody passes an interval that is kept ahead, but by a run longer than it", () => {
    const [ahead, whole] = simulate({
      laws: [{ kind: "evident", life: { shape: 1, scale: 1e12 } }],
      runs: [20, 30, 50, 90],
      policies: [
        { kind: "ahead", interval: 120 },
        { kind: "whole", interval: 120 },
      ],
    });
    // Without failures the hours per redress: at most 120 ahead, at least 120 at the return past it.
    expect(1000 / ahead!.redresses.value).toBeLessThan(120);
    expect(1000 / whole!.redresses.value).toBeGreaterThan(120);
  });

  const two = {
    laws: [evident(2, 400), evident(3, 900)],
    itemOf: [0, 1],
    costs: {
      planned: 6,
      modes: [
        { stops: 60, found: 0 },
        { stops: 60, found: 0 },
      ],
    },
    openingShare: 0.5,
    runs: [20, 40, 90],
  } satisfies Partial<PolicySimulation>;

  test("intervals of their own renew the long-lived item less often and use fewer kits", () => {
    const [whole, items] = simulate({
      ...two,
      policies: [
        { kind: "whole", interval: 150 },
        { kind: "items", intervals: [150, 450], opportunity: 0.9 },
      ],
    });
    expect(items!.kits.value).toBeLessThan(whole!.kits.value - 4 * whole!.kits.error);
  });

  test("practice that always redresses at 150 h and renews everything is that policy", () => {
    const [whole, practice] = simulate({
      ...two,
      policies: [
        { kind: "whole", interval: 150 },
        { kind: "practice", chanceAt: (hours) => (hours >= 150 ? 1 : 0), renewedShare: [1, 1] },
      ],
    });
    expect(practice!.cost).toEqual(whole!.cost);
    expect(practice!.costAgainstFirst.value).toBe(0);
  });

  test("common random numbers: the difference is known better than from two simulations apart", () => {
    const [a, b] = simulate({
      ...two,
      policies: [
        { kind: "whole", interval: 150 },
        { kind: "whole", interval: 180 },
      ],
    });
    expect(b!.costAgainstFirst.error).toBeLessThan(0.9 * Math.hypot(a!.cost.error, b!.cost.error));
  });

  test("the same seed gives the same numbers; no runs are refused", () => {
    const policies = [{ kind: "never" }] as const;
    expect(simulate({ ...two, policies, histories: 20 })).toEqual(simulate({ ...two, policies, histories: 20 }));
    expect(() => simulate({ runs: [], policies })).toThrow("bad-setting");
  });
});
