// Exponential laws by hand; the trade example for a Weibull life; laws that must hold of any state.
import { describe, expect, test } from "vitest";
import { redressCycle } from "../../../analysis/decisions/redressCycle.ts";
import type { ModeLaw } from "../../../analysis/decisions/redressModel.ts";
import { stopChance } from "../../../analysis/decisions/stopChance.ts";

const pair = (defectScale: number, delayScale: number): ModeLaw => ({
  kind: "linked",
  defect: { shape: 1, scale: defectScale },
  delay: { shape: 1, scale: delayScale },
});

test("a mode that stops the job: 100 h after 0, 150 and 200 h are survived with 0.939, 0.779 and 0.732", () => {
  const law: ModeLaw = { kind: "evident", life: { shape: 2, scale: 400 } };
  const survived = [0, 150, 200].map((age) => 1 - stopChance(law, { age, cleanAt: 0 }, [100])[0]!);
  expect(survived.map((share) => Math.round(1000 * share) / 1000)).toEqual([0.939, 0.779, 0.732]);
});

test("a hidden mode never stops a job, and no hours are no chance", () => {
  expect(stopChance({ kind: "hidden", life: { shape: 2, scale: 100 } }, { age: 500, cleanAt: 0 }, [50])).toEqual([0]);
  expect(stopChance(pair(300, 80), { age: 100, cleanAt: 0 }, [0])).toEqual([0]);
});

describe("a defect and the failure it leads to", () => {
  const [come, grow] = [1 / 300, 1 / 80];
  const survival = (age: number) => (grow * Math.exp(-come * age) - come * Math.exp(-grow * age)) / (grow - come);

  test.each([0, 60, 200])("nobody looked since restored, age %d h: ratio of hypoexponential survivals", (age) => {
    const [chance] = stopChance(pair(300, 80), { age, cleanAt: 0 }, [90]);
    expect(chance).toBeCloseTo(1 - survival(age + 90) / survival(age), 4);
  });

  test("seen sound just now, a defect of constant rate starts anew: the chance is that of a new item", () => {
    const [now] = stopChance(pair(300, 80), { age: 200, cleanAt: 200 }, [90]);
    expect(now).toBeCloseTo(1 - survival(90), 4);
  });

  test("the longer ago the clean look, the higher the chance", () => {
    const law: ModeLaw = { kind: "linked", defect: { shape: 2.4, scale: 480 }, delay: { shape: 1.3, scale: 90 } };
    const chances = [200, 150, 80, 0].map((cleanAt) => stopChance(law, { age: 200, cleanAt }, [60])[0]!);
    expect(chances).toEqual([...chances].sort((a, b) => a - b));
    expect(chances[3]).toBeGreaterThan(2 * chances[0]!);
  });

  test("agrees with the redress cycle's own sum over cells", () => {
    const law: ModeLaw = { kind: "linked", defect: { shape: 2.4, scale: 480 }, delay: { shape: 1.3, scale: 90 } };
    const { running } = redressCycle([law], 1, 400);
    for (const age of [0, 120, 300]) {
      const [chance] = stopChance(law, { age, cleanAt: 0 }, [60]);
      expect(chance).toBeCloseTo(1 - running[age + 60]! / running[age]!, 4);
    }
  });
});
