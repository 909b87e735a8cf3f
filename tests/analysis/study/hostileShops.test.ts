// Shops with too little, too much or impossible hours: the answer says what can be concluded, and its notices why no more.
import { describe, expect, test } from "vitest";
import { defaultStudy } from "../../../analysis/study/definition.ts";
import { runStudy } from "../../../analysis/study/runStudy.ts";
import type { ItemLifeResult } from "../../../analysis/study/types.ts";
import { sayAnswer, sayNotice } from "../../../analysis/wording/index.ts";
import { type RunLife, shopOfLives } from "../../support/shopOfLives.ts";
import { context } from "./handShop.ts";

const answerOf = (lives: readonly RunLife[]): ItemLifeResult => {
  const result = runStudy(defaultStudy("item life", { item: "seal", mode: "leak" }), shopOfLives(lives), context);
  if (result.kind !== "item life") throw new Error(result.kind);
  return result;
};
const failed = (hours: number | null): RunLife => ({ hours, failed: true });
const good = (hours: number | null): RunLife => ({ hours, failed: false });
const codes = ({ notices }: ItemLifeResult) => notices.map(({ code }) => code);

/** JSON has no NaN and no Infinity: what goes over the wire must be what was computed. */
function isPlain(result: ItemLifeResult): void {
  expect(JSON.parse(JSON.stringify(result))).toEqual(result);
  for (const notice of result.notices) expect(sayNotice(notice)).not.toMatch(/NaN|undefined|Infinity/);
  expect(sayAnswer(result)).not.toMatch(/NaN|undefined|Infinity|null/);
}

describe("too little", () => {
  test("nothing failed: a lower bound of what is still good, and no law", () => {
    const result = answerOf([good(100), good(150), good(200), good(220)]);
    expect(result.fit).toBeNull();
    expect(result.readings.b10).toMatchObject({ value: null, why: "no failures" });
    expect(result.readings.reliability.lower).toBeGreaterThan(0);
    expect(codes(result)).toContain("no-failures");
    isPlain(result);
  });

  test("one failure: a law with the warning that so few tell little, and by how much its bounds fall short", () => {
    const result = answerOf([failed(100), good(150), good(200), good(220)]);
    expect(result.fit).not.toBeNull();
    expect(codes(result)).toEqual(expect.arrayContaining(["few-failures", "bounds-fall-short"]));
    isPlain(result);
  });

  test("one failure and nothing beyond it: no law, and which way it ran", () => {
    const result = answerOf([failed(200), good(150), good(100)]);
    expect(result.fit).toBeNull();
    expect(result.notices.find(({ code }) => code === "no-maximum")?.facts).toMatchObject({
      failures: 1,
      maximum: "shape not bounded above",
    });
    isPlain(result);
  });

  test("all failed at one hour: no law, steps still drawn", () => {
    const result = answerOf([failed(150), failed(150), failed(150)]);
    expect(result.fit).toBeNull();
    expect(codes(result)).toContain("no-maximum");
    expect(result.nonparametric.steps.length).toBeGreaterThan(0);
    isPlain(result);
  });
});

describe("hours that cannot be", () => {
  const sound = [failed(100), failed(140), good(150), failed(190), good(200), good(220)];

  test("0 hours on a run of eighty days count as not written down, with a notice that names the run", () => {
    const result = answerOf([...sound, good(0)]);
    const notice = result.notices.find(({ code }) => code === "run-hours-missing");
    expect(notice).toBeDefined();
    expect(notice && sayNotice(notice)).toContain("V-7");
    isPlain(result);
  });

  test("blank hours are a range from 0 to what the dates hold, and said", () => {
    const result = answerOf([...sound, failed(null)]);
    expect(codes(result)).toEqual(expect.arrayContaining(["run-hours-missing", "ranged-ages"]));
    isPlain(result);
  });

  test("more hours than the dates hold are used as written, and said", () => {
    const result = answerOf([...sound, good(5e6)]);
    const notice = result.notices.find(({ code }) => code === "run-hours-exceed-dates");
    expect(notice && sayNotice(notice)).toContain("V-7");
    expect(result.longestAge).toBe(5e6);
    isPlain(result);
  });
});
