// What the sample shop plans and decided: true to its tools and kits, and without any say in a life or a doubt.
import { expect, test } from "vitest";
import { auditRecords, deriveLives, type Records, scopeChoices } from "../../analysis/index.ts";
import { defaultFleet } from "../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../datasets/sample-fleet/generator/simulateFleet.ts";

const { recorded } = simulateFleet(defaultFleet);
const {
  planned_runs: jobs = [],
  stock = [],
  costs = [],
  decisions = [],
  tools = [],
  tool_items: items = [],
} = recorded;
const withoutPlans: Records = { ...recorded, planned_runs: [], stock: [], costs: [], decisions: [] };

test("jobs to come are those of tools in the shop, after the end of the records, within the shop's usual hours", () => {
  const inShop = new Set(tools.filter(({ status }) => status === "in shop").map(({ serial }) => serial));
  expect(jobs.length).toBeGreaterThan(20);
  expect(new Set(jobs.map(({ serial }) => serial)).size).toBeLessThan(inShop.size);
  for (const job of jobs) {
    expect(inShop.has(job.serial), job.serial).toBe(true);
    expect(job.start_on > defaultFleet.to && job.start_on <= "2026-08-15", job.start_on).toBe(true);
    expect(job.hours).toBeGreaterThanOrEqual(10);
    expect(job.hours).toBeLessThanOrEqual(150);
    expect(job.max_temperature_C).toBeGreaterThan(48);
    expect(job.max_temperature_C).toBeLessThan(161);
  }
});

test("every kit that an item names is counted once on the shelf, with its lead time", () => {
  expect(stock.map(({ kit }) => kit).sort()).toEqual([...new Set(items.flatMap(({ kit }) => kit ?? []))].sort());
  for (const { on_hand, lead_time_d } of stock) {
    expect(on_hand).toBeGreaterThan(0);
    expect(lead_time_d).toBeGreaterThan(0);
  }
});

test("costs are dated, in one currency, and each later one takes over an earlier one", () => {
  expect(new Set(costs.map(({ currency }) => currency))).toEqual(new Set(["USD"]));
  const later = costs.filter(({ dated_on }) => dated_on > "2023-01-01");
  expect(later).toHaveLength(costs.length / 2);
  for (const { what, tool_type, amount } of later) {
    const earlier = costs.find((cost) => cost.what === what && cost.tool_type === tool_type);
    expect(amount).toBeGreaterThan(earlier?.amount ?? Number.POSITIVE_INFINITY);
  }
});

test("the one decision is about a tool type of the list and says its interval", () => {
  expect(decisions).toHaveLength(1);
  expect(items.map(({ tool_type }) => tool_type)).toContain(decisions[0]?.tool_type);
  expect(decisions[0]?.interval_h).toBe(200);
});

test("no life, no doubt and no choice of a question rests on them", () => {
  expect(deriveLives(recorded, { cutoff: null })).toEqual(deriveLives(withoutPlans, { cutoff: null }));
  expect(auditRecords(recorded)).toEqual(auditRecords(withoutPlans));
  expect(scopeChoices(recorded)).toEqual(scopeChoices(withoutPlans));
}, 60_000);
