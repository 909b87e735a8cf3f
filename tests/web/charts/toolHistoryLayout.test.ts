import { expect, test } from "vitest";
import { toolHistoryLayout } from "../../../web/charts/toolHistoryLayout.ts";
import { toolHistoryFixture } from "../../support/chartFixtures.ts";

const history = toolHistoryFixture();
const size = { width: 900, finding: "The story of one tool" };
const redresses = history.events.flatMap(({ event }) => (event.kind === "redress" ? [event] : []));

test("a mode that a make-up restores starts again at every redress that makes its joint up", () => {
  const ages = history.ages.map((age) => (age.item === "J2" ? { ...age, restoredBy: "made up" as const } : age));
  const lane = toolHistoryLayout({ ...history, ages }, size).lanes.find(({ item }) => item === "J2");
  const madeUp = redresses.filter(({ joints }) => joints.some(({ joint }) => joint === "J2"));
  expect(lane?.teeth.map(({ since }) => since)).toEqual(madeUp.map(({ redress }) => redress.redress));
});

test("a mode that only renewal restores does not", () => {
  const lane = toolHistoryLayout(history, size).lanes.find(({ item }) => item === "J2");
  const renewed = redresses.filter(({ fitted }) => fitted.some(({ item, renewed: is }) => item === "J2" && is));
  expect(lane?.teeth.map(({ since }) => since)).toEqual(renewed.map(({ redress }) => redress.redress));
});

test("lanes stand one under the other without overlap, none taller than it needs", () => {
  const { lanes } = toolHistoryLayout(history, size);
  lanes.forEach((lane, index) => {
    const before = lanes[index - 1];
    expect(lane.bottom - lane.top).toBeLessThanOrEqual(30);
    if (before !== undefined) expect(lane.top - before.bottom).toBeGreaterThanOrEqual(16);
  });
});
