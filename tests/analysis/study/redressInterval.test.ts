// The redress interval on a simulated fleet: sums, plain JSON, notices with their facts, costs by source, words.
import { describe, expect, test } from "vitest";
import type { Records, Row } from "../../../analysis/records/descriptor.ts";
import type { RedressIntervalResult } from "../../../analysis/study/decisionTypes.ts";
import { defaultStudy, usualDecision } from "../../../analysis/study/definition.ts";
import { runStudy } from "../../../analysis/study/runStudy.ts";
import { noticeFacts } from "../../../analysis/wording/noticeFacts.ts";
import { sayAnswer } from "../../../analysis/wording/sayAnswer.ts";
import { sayIntervalFinding } from "../../../analysis/wording/sayIntervalFinding.ts";
import { cleanFleet, defaultFleet } from "../../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../../datasets/sample-fleet/generator/simulateFleet.ts";

const simulated = simulateFleet({ ...defaultFleet, serials: 24, seed: 5, to: "2025-12-31" }).recorded;
const recorded: Records = { ...simulated, costs: [] };
const context = { dataHash: "simulated", statements: [], sample: true };
const ask = (scope: object, decision = {}, records: Records = recorded): RedressIntervalResult => {
  const definition = { ...defaultStudy("redress interval", scope), decision: { ...usualDecision, ...decision } };
  const result = runStudy(definition, records, context);
  if (result.kind !== "redress interval") throw new Error(result.kind);
  return result;
};
const whole = ask({ toolType: "axial damper" });
const seal = ask({ toolType: "axial damper", item: "main seal" });
const joint = ask({ toolType: "axial damper", item: "J1", mode: "shoulder leak" });
const stack = ask({ toolType: "axial damper", item: "stack" });
const results = [whole, seal, joint, stack];

describe("every result", { timeout: 60_000 }, () => {
  test("is plain JSON without NaN or Infinity, the same when asked again", () => {
    for (const result of results) expect(JSON.parse(JSON.stringify(result))).toEqual(result);
    expect(ask({ toolType: "axial damper", item: "main seal" })).toEqual(seal);
  });

  test("has bounds on both sides of every curve, and chances between 0 and 1 that rise with the interval", () => {
    for (const { curves } of results) {
      for (const line of [curves.costRate, curves.stoppedBefore, curves.nextRun]) {
        expect(line.value.every((value, at) => value >= line.lower[at]! && value <= line.upper[at]!)).toBe(true);
      }
      const chances = curves.stoppedBefore.value;
      expect(chances.every((value, at) => value >= (chances[at - 1] ?? 0) && value <= 1)).toBe(true);
    }
  });

  test("shares of the cost add up to what the planned redress leaves", () => {
    for (const { modes } of results) {
      const shares = modes.reduce((sum, { perCycle }) => sum + perCycle.costShare, 0);
      expect(shares).toBeGreaterThanOrEqual(0);
      expect(shares).toBeLessThanOrEqual(1 + 1e-9);
    }
  });

  test("gives its notices exactly the facts that their words need, and a sentence without holes", () => {
    for (const result of results) {
      for (const { code, facts } of result.notices)
        if (!("count" in facts)) expect(Object.keys(facts).sort(), code).toEqual([...noticeFacts[code]].sort());
      const words = [
        sayAnswer(result),
        ...(["cost", "before", "run"] as const).map((picture) => sayIntervalFinding(result, picture)),
      ];
      for (const sentence of words) expect(sentence).not.toMatch(/NaN|Infinity|undefined|null/);
    }
  });
});

describe("what is counted", () => {
  test("the whole tool: what most redresses restore; the rest is named with its share", () => {
    const counted = whole.modes.map(({ item, mode }) => `${item}: ${mode}`);
    expect(counted).toContain("main seal: leak");
    for (const { renewedShare } of whole.ownClock) expect(renewedShare).toBeLessThan(0.5);
    expect(whole.ownClock.map(({ item }) => item)).toContain("mandrel");
  });

  test("extrusion and the leak it leads to are one", () => {
    const leak = seal.modes.find(({ mode }) => mode === "leak");
    expect(leak).toMatchObject({ kind: "linked", defect: "extrusion", law: "both fitted together" });
    expect(seal.modes.map(({ mode }) => mode)).not.toContain("extrusion");
  });

  test("an item that never stops a job has no interval by cost, and the answer says so", () => {
    expect(stack.verdict).toMatchObject({ pays: "no", because: "nothing stops a job" });
    expect(stack.recommended).toBeNull();
    expect(sayAnswer(stack)).toMatch(/^No interval can be set by cost for the stack/);
  });
});

describe("costs", () => {
  const cost = (what: Row<"costs">["what"], amount: number, more = {}) => ({
    what,
    tool_type: "axial damper",
    dated_on: "2023-01-01",
    amount,
    currency: "USD",
    ...more,
  });

  test("without any they are in planned redresses, and assumed costs are said", () => {
    expect(seal).toMatchObject({ currency: null, planned: { amount: 1, source: "assumed" } });
    expect(seal.notices.find(({ code }) => code === "costs-assumed")?.facts).toMatchObject({
      planned: null,
      ratio: 10,
    });
  });

  test("the newest on record that holds is used, its own tool type first, another currency left out", () => {
    const costs = [
      cost("planned redress", 5_000),
      cost("planned redress", 6_000, { dated_on: "2024-05-01" }),
      cost("planned redress", 9_000, { dated_on: "2030-01-01" }),
      cost("failure downhole", 60_000),
      cost("failure downhole", 90_000, { tool_type: "all", dated_on: "2024-06-01" }),
      cost("redress after failure", 8_000),
      cost("rig day", 1, { currency: "EUR" }),
    ];
    const priced = ask({ toolType: "axial damper" }, {}, { ...recorded, costs });
    expect(priced).toMatchObject({ currency: "USD", planned: { amount: 6_000, source: "records" } });
    // 60,000 for the trip and the lost time, 8,000 for the redress after it.
    expect(priced.modes.find(({ kind }) => kind === "linked")?.stops?.amount).toBe(68_000);
    expect(priced.notices.find(({ code }) => code === "costs-left-out")?.facts).toMatchObject({ currency: "USD" });
    expect(priced.notices.some(({ code }) => code === "costs-assumed")).toBe(false);
  });

  test("all costs times a thousand change the cost and not the interval; a dearer failure brings it forward", () => {
    const dear = ask({ toolType: "axial damper", item: "main seal" }, { plannedCost: 1_000, failureCost: 10_000 });
    expect(dear.recommended?.age).toBe(seal.recommended?.age);
    expect((dear.curves.costRate.value[40] ?? 0) / (seal.curves.costRate.value[40] ?? 1)).toBeCloseTo(1_000, 6);
    const dearer = ask({ toolType: "axial damper", item: "main seal" }, { plannedCost: 1, failureCost: 40 });
    expect(dearer.optimum.value ?? 1e9).toBeLessThan(seal.optimum.value ?? 1e9);
  });

  test("a failure no dearer than a planned redress: no interval pays", () => {
    const cheap = ask({ toolType: "axial damper", item: "main seal" }, { plannedCost: 1, failureCost: 1 });
    expect(cheap.verdict).toMatchObject({ pays: "no", because: "a failure costs too little" });
  });
});

test("a tighter allowance means an earlier limit, and a chance or cost out of range is refused", () => {
  const tight = ask({ toolType: "axial damper", item: "main seal" }, { allowedChance: 0.03 });
  expect(tight.risk.beforeRedress.age ?? 0).toBeLessThan(seal.risk.beforeRedress.age ?? 0);
  for (const wrong of [{ allowedChance: 0 }, { plannedCost: 0 }, { failureCost: -1 }, { runHours: Number.NaN }])
    expect(() => ask({ toolType: "axial damper" }, wrong)).toThrow("bad-setting");
});

test("ways to redress stand beside today's practice, with Monte Carlo errors; none at all stops most jobs", () => {
  const decisions = [
    {
      tool_type: "axial damper",
      item: "whole tool",
      dated_on: "2023-01-01",
      statement: "Redress at 120 h.",
      interval_h: 120,
    },
  ];
  const { policies, decided } = ask({ toolType: "axial damper" }, {}, { ...recorded, decisions });
  expect(decided).toEqual({ datedOn: "2023-01-01", intervalH: 120, statement: "Redress at 120 h." });
  expect(policies.map(({ policy }) => policy)).toEqual([
    "today's practice",
    "recommended interval",
    "limit of the allowed chance",
    "decided interval",
    "each item its own",
    "only after failures",
  ]);
  const [today, ...others] = policies;
  expect(today?.costAgainstFirst).toEqual({ value: 0, error: 0 });
  for (const { cost, failures, costAgainstFirst } of others) {
    expect(cost.error).toBeGreaterThan(0);
    expect(cost.error).toBeLessThan(0.1 * cost.value);
    expect(costAgainstFirst.value).toBeCloseTo(cost.value - (today?.cost.value ?? 0), 6);
    expect(failures.value).toBeLessThanOrEqual(policies.at(-1)?.failures.value ?? 0);
  }
  expect(policies.at(-1)?.redresses.value).toBe(0);
});

describe("the next well", { timeout: 60_000 }, () => {
  const cool = ask({ toolType: "axial damper" }, { wellC: 90 });
  const hot = ask({ toolType: "axial damper" }, { wellC: 135 });

  test("not given, nothing of heat is told and hours count alike", () => {
    expect(whole.heat).toBeNull();
    expect(sayAnswer(whole)).not.toContain("°C");
  });

  test("given, the hours are hours at it: hotter wells mean an earlier redress, in the limits as in the advice", () => {
    const [early, late] = [hot.risk.beforeRedress.age ?? 0, cool.risk.beforeRedress.age ?? 0];
    expect(early).toBeLessThan(0.7 * late);
    expect(sayAnswer(hot)).toMatch(/^As if every hour were run at 135 °C \(275 °F\): .*main seal.* the heat/);
    const limits = hot.heat?.byTemperature.map(({ beforeRedress }) => beforeRedress.age ?? 0) ?? [];
    expect(limits).toHaveLength(5);
    expect(limits.every((age, place) => place === 0 || age < limits[place - 1]!)).toBe(true);
  });

  test("a mode without heat keeps its law", () => {
    const shapes = ({ modes, heat }: RedressIntervalResult) =>
      modes
        .filter((_, place) => heat === null || heat.modes[place]?.verdict !== "follows the heat")
        .map(({ item, mode, scale }) => `${item} ${mode} ${scale.value}`);
    const plain = shapes(whole);
    for (const line of shapes(hot)) expect(plain).toContain(line);
  });

  test("beyond the wells of the records it says so; without temperatures it says what is missing", () => {
    const codes = ({ notices }: RedressIntervalResult) => notices.map(({ code }) => code);
    expect(codes(cool)).not.toContain("heat-beyond-seen");
    expect(codes(ask({ toolType: "axial damper" }, { wellC: 190 }))).toContain("heat-beyond-seen");
    const runs = (recorded.runs ?? []).map((run) => ({ ...run, max_temperature_C: null }));
    const blind = ask({ toolType: "axial damper" }, { wellC: 120 }, { ...recorded, runs });
    expect(codes(blind)).toContain("heat-not-written");
    expect(blind.heat).toBeNull();
    expect(blind.risk).toEqual(ask({ toolType: "axial damper" }, {}, { ...recorded, runs }).risk);
  });
});

test("the cheapest way is told beside the advice, with what it rests on; a way that saves little is not", () => {
  const told = /Played run by run by the estimate alone, .* costs (\d+) % less than today's practice/;
  const savingOf = (saved: number): RedressIntervalResult => ({
    ...whole,
    policies: whole.policies.map((row) =>
      row.policy === "each item its own"
        ? { ...row, costAgainstFirst: { value: -saved * whole.policies[0]!.cost.value, error: 1e-9 } }
        : { ...row, costAgainstFirst: { value: 0, error: 1e-9 } },
    ),
  });
  expect(told.exec(sayAnswer(savingOf(0.22)))?.[1]).toBe("22");
  expect(sayAnswer(savingOf(0.22))).toContain("with half of a planned redress taken as opening the tool (assumed)");
  expect(sayAnswer(savingOf(0.04))).not.toMatch(told);
  const unsure = savingOf(0.22).policies.map((row) => ({
    ...row,
    costAgainstFirst: { ...row.costAgainstFirst, error: 0.1 * whole.policies[0]!.cost.value },
  }));
  expect(sayAnswer({ ...whole, policies: unsure })).not.toMatch(told);
});

test("few failures that do not show that an interval pays: no range of the best one, no regret, and no advice to change", () => {
  const { recorded: few } = simulateFleet({ ...cleanFleet, serials: 10, seed: 2 });
  const result = ask(
    { toolType: "axial damper", item: "main seal" },
    { plannedCost: 1, failureCost: 10, foundCost: 0 },
    few,
  );
  expect(result.verdict.pays).toBe("not shown");
  expect(result.optimum).toMatchObject({ value: null, lower: null, upper: null, why: "no interval shown to pay" });
  expect(result.recommended).toMatchObject({ regretMean: null, regretUpper: null });
  expect(sayAnswer(result)).toMatch(/is not shown yet.* nothing asks for a change from today's practice/);
});
