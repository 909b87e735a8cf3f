import { expect, test } from "vitest";
import { type eventFilters, failedLooksOf, filtered, groupByRedress } from "../../../../web/state/eventGroups.ts";
import { toolHistoryFixture } from "../../../support/chartFixtures.ts";

const { events, lives } = toolHistoryFixture();
const failedLooks = failedLooksOf(lives);
const groups = groupByRedress(events, failedLooks);

test("every event lies in exactly one group, in order, and each group but perhaps the first begins with its redress", () => {
  expect(groups.flatMap((group) => group.events)).toEqual(events);
  expect(groups.slice(1).every(({ redress, events: own }) => redress !== null && redress === own[0])).toBe(true);
  expect(groups.length).toBe(events.filter(({ event }) => event.kind === "redress").length);
});

test("runs and hours of the groups add up to those of the tool; runs without hours are counted apart", () => {
  const runs = events.flatMap(({ event }) => (event.kind === "run" ? [event.run] : []));
  expect(groups.reduce((sum, group) => sum + group.runs, 0)).toBe(runs.length);
  expect(groups.reduce((sum, group) => sum + group.hours, 0)).toBeCloseTo(
    runs.reduce((sum, run) => sum + (run.hours ?? 0), 0),
    9,
  );
  expect(groups.reduce((sum, group) => sum + group.runsWithoutHours, 0)).toBe(1);
});

test("what comes before the first redress stands in a group of its own", () => {
  const [first] = groupByRedress(events.slice(1), failedLooks);
  expect(first?.redress).toBeNull();
  expect(first?.events[0]?.event.kind).toBe("run");
});

test("a filter keeps the events of its kind, and of the item that they name", () => {
  const count = (filter: (typeof eventFilters)[number], item: string | null = null) =>
    filtered(groups, filter, item, failedLooks).reduce((sum, group) => sum + group.events.length, 0);
  expect(count("everything")).toBe(events.length);
  expect(count("runs") + count("teardowns") + count("redresses")).toBe(events.length);
  expect(count("failures found")).toBeLessThan(events.length);
  const redresses = filtered(groups, "redresses", "main seal", failedLooks).flatMap((group) => group.events);
  expect(redresses.length).toBeGreaterThan(0);
  for (const { event } of redresses)
    expect(event.kind === "redress" && event.fitted.some(({ item, renewed }) => item === "main seal" && renewed)).toBe(
      true,
    );
  expect(count("everything", "no such item")).toBe(0);
});

test("found failed is what the lives say; a finding that no life ended at is only seen", () => {
  const hidden = lives.filter((life) => life.looks.some(({ found }) => found === "failed"));
  expect(hidden.length).toBeGreaterThan(0);
  const named = groups.flatMap(({ failed }) => failed);
  for (const { item, mode } of hidden) expect(named).toContain(`${item}: ${mode}`);
  const unknown = groupByRedress(events, new Set());
  expect(unknown.flatMap(({ failed }) => failed)).toEqual([]);
  expect(unknown.flatMap(({ seen }) => seen)).toEqual(expect.arrayContaining(named));
});
