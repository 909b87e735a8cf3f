// "Tool history" on the shop worked by hand: every row once, in the order of the day, with the tool's hours.
import { describe, expect, test } from "vitest";
import { AnalysisError } from "../../../analysis/errors.ts";
import { defaultStudy } from "../../../analysis/study/definition.ts";
import { runStudy } from "../../../analysis/study/runStudy.ts";
import type { ToolHistoryResult } from "../../../analysis/study/types.ts";
import { context, handShop } from "./handShop.ts";

function storyOf(serial: string, records = handShop): ToolHistoryResult {
  const result = runStudy(defaultStudy("tool history", { serial }), records, context);
  if (result.kind !== "tool history") throw new Error(result.kind);
  return result;
}
const nameOf = ({ event }: ToolHistoryResult["events"][number]) =>
  event.kind === "run" ? event.run.run : event.kind === "redress" ? event.redress.redress : event.teardown.teardown;

describe("T1's story", () => {
  const story = storyOf("T1");

  test("in order, with the hours of the tool at each", () => {
    expect(story.events.map((event) => [nameOf(event), event.on, event.toolHours])).toEqual([
      ["R1", "2024-01-05", 0],
      ["a", "2024-01-20", 100],
      ["L1", "2024-01-25", 100],
      ["b", "2024-02-20", 160],
      ["L2", "2024-02-25", 160],
      ["R2", "2024-03-01", 160],
      ["c", "2024-07-15", 210],
    ]);
    expect(story).toMatchObject({ runs: 3, hours: 210, failures: 1 });
  });

  test("what was written in each", () => {
    const [build, , , , look] = story.events.map(({ event }) => event);
    expect(build?.kind === "redress" && [build.joints.length, build.fitted.length]).toEqual([1, 2]);
    expect(look?.kind === "teardown" && look.findings.map(({ condition }) => condition)).toEqual([
      "extrusion",
      "sound",
    ]);
  });

  test("present ages: since which build, how long, and in what state", () => {
    const ages = story.ages.map(({ item, mode, since, age, state }) => [item, mode, since, age, state]);
    expect(ages).toEqual([
      ["main seal", "extrusion", "R2", 50, "running"],
      ["main seal", "leak", "R2", 50, "running"],
      ["J1", "back-off", "R1", 210, "running"],
    ]);
  });

  test("its lives are T1's, the failed ones among them", () => {
    expect(story.lives.every(({ serial }) => serial === "T1")).toBe(true);
    expect(
      story.lives
        .filter(({ kind }) => kind !== "right")
        .map(({ mode }) => mode)
        .sort(),
    ).toEqual(["extrusion", "leak"]);
  });
});

test("T2's joint had failed and was renewed: the state is that of the latest build", () => {
  expect(storyOf("T2").ages.find(({ mode }) => mode === "back-off")).toMatchObject({
    since: "R4",
    age: 120,
    state: "running",
  });
  const before = { ...handShop, redresses: (handShop.redresses ?? []).filter(({ redress }) => redress !== "R4") };
  expect(storyOf("T2", before).ages.find(({ mode }) => mode === "back-off")).toMatchObject({
    since: "R3",
    state: "failed",
  });
});

test("everything on one day: run in, teardown, redress", () => {
  const day = "2024-02-20";
  const records = {
    ...handShop,
    teardowns: (handShop.teardowns ?? []).map((row) => (row.teardown === "L2" ? { ...row, done_on: day } : row)),
    redresses: (handShop.redresses ?? []).map((row) => (row.redress === "R2" ? { ...row, done_on: day } : row)),
  };
  expect(
    storyOf("T1", records)
      .events.filter(({ on }) => on === day)
      .map(nameOf),
  ).toEqual(["b", "L2", "R2"]);
});

test("a run entered twice stands there twice and counts once", () => {
  const again = (handShop.runs ?? []).filter(({ run }) => run === "a").map((row) => ({ ...row, run: "a again" }));
  const story = storyOf("T1", { ...handShop, runs: [...(handShop.runs ?? []), ...again] });
  expect(story.events).toHaveLength(8);
  expect(story).toMatchObject({ runs: 3, hours: 210 });
  expect(story.notices.map(({ code }) => code)).toContain("run-duplicate");
});

test("hours at entry go before, and missing hours make a range", () => {
  const tools = (handShop.tools ?? []).map((row) => (row.serial === "T1" ? { ...row, hours_at_entry: 500 } : row));
  const runs = (handShop.runs ?? []).map((row) => (row.run === "c" ? { ...row, hours: null } : row));
  // Out from 10 to 15 July: six days, 0 to 144 h.
  expect(storyOf("T1", { ...handShop, tools, runs }).hours).toEqual([660, 804]);
});

test("a serial that nobody knows is an error", () => {
  expect(() => storyOf("T9")).toThrow(AnalysisError);
  expect(() => storyOf("T9")).toThrow(/tool-not-found/);
});
