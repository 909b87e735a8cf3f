// "What fails" on a shop worked by hand (handShop.ts): hours watched, failures, rates and their bounds, periods, scope.
import { describe, expect, test } from "vitest";
import { defaultStudy } from "../../../analysis/study/definition.ts";
import { runStudy } from "../../../analysis/study/runStudy.ts";
import type { Scope, WhatFailsResult } from "../../../analysis/study/types.ts";
import { context, handShop } from "./handShop.ts";

function whatFails(scope: Partial<Scope> = {}, records = handShop): WhatFailsResult {
  const result = runStudy(defaultStudy("what fails", scope), records, context);
  if (result.kind !== "what fails") throw new Error(result.kind);
  return result;
}
const tally = ({ modes }: Pick<WhatFailsResult, "modes">) =>
  Object.fromEntries(modes.map(({ item, mode, failures, hours }) => [`${item}: ${mode}`, [failures, hours]]));

describe("hours watched and failures, by hand", () => {
  const result = whatFails({ toolType: "axial damper" });

  test("a hidden mode counts the hours it was inspected, an evident one the hours it ran", () => {
    expect(tally(result)).toEqual({
      // Leak at 140 h; 50 h and 80 h and 120 h without.
      "main seal: leak": [1, 140 + 50 + 80 + 120],
      // Found at L2, there by the leak at 140 h; the 50 h after R2 were looked at by nobody.
      "main seal: extrusion": [1, 140 + 80 + 120],
      // L2 saw J1 at 160 h; run c came after. Backed off by 80 h; sound at 120 h.
      "J1: back-off": [1, 160 + 80 + 120],
    });
  });

  test("rates per 1,000 h and their exact bounds at 90 %", () => {
    const leak = result.modes.find(({ mode }) => mode === "leak");
    expect(leak?.rate.value).toBeCloseTo(1000 / 390, 10);
    // One failure: lower -ln(0.95)/T; upper half the 95 % quantile of chi-square(4), 9.4877 in printed tables, over T.
    expect(leak?.rate.lower).toBeCloseTo((1000 * -Math.log(0.95)) / 390, 8);
    expect(leak?.rate.upper).toBeCloseTo((1000 * 9.4877) / 2 / 390, 3);
    expect(leak?.rate).toMatchObject({ confidence: 0.9, method: "exact Poisson", unit: "per 1,000 h" });
  });

  test("looks, few failures, and what brought the tool back", () => {
    // An evident mode is seen by looks too: L1, L2, L3, L4. The seal that leaked brought its tool back.
    const rows = Object.fromEntries(result.modes.map((row) => [row.mode, row]));
    expect(rows.extrusion).toMatchObject({ looks: 4, few: true, announces: "hidden", broughtBack: 1 });
    expect(rows.leak).toMatchObject({ few: true, announces: "evident", broughtBack: 1, itemKind: "seal", position: 1 });
    expect(rows["back-off"]).toMatchObject({ looks: 4, broughtBack: 0 });
    expect(result.notices.find(({ code }) => code === "few-failures")?.facts).toEqual({ failures: 5, modes: 3 });
  });

  test("runs, tools, hours and tool failures of the type", () => {
    expect(result).toMatchObject({ tools: 2, runs: 5, toolFailures: 1 });
    expect(result.toolFailureRate.value).toBeCloseTo(1000 / 410, 10);
    expect(result.hours).toEqual({ total: 410, used: 410, unused: [] });
  });

  test("highest rate first", () => {
    const rates = result.modes.map(({ rate }) => rate.value ?? 0);
    expect(rates).toEqual(rates.toSorted((a, b) => b - a));
  });

  test("each failure is a life that can be opened", () => {
    expect(result.modes.flatMap(({ lifeIds }) => lifeIds)).toHaveLength(3);
    expect(new Set(result.modes.flatMap(({ lifeIds }) => lifeIds)).size).toBe(3);
  });
});

describe("half-years", () => {
  const { periods, modes } = whatFails({ toolType: "axial damper" });

  test("hours stand where the run came in, failures where they became known", () => {
    expect(periods.map(({ label }) => label)).toEqual(["2024 Jan-Jun", "2024 Jul-Dec"]);
    const first = Object.fromEntries((periods[0]?.byMode ?? []).map((row) => [row.mode, [row.failures, row.hours]]));
    const second = Object.fromEntries((periods[1]?.byMode ?? []).map((row) => [row.mode, [row.failures, row.hours]]));
    expect(first).toEqual({ leak: [1, 220], extrusion: [1, 220], "back-off": [1, 240] });
    expect(second).toEqual({ leak: [0, 170], extrusion: [0, 120], "back-off": [0, 120] });
  });

  test("an extrusion and its leak are one failed item; the total is rated by the most any mode watched", () => {
    expect(periods.map(({ failures, hours }) => [failures, hours])).toEqual([
      [2, 240],
      [0, 170],
    ]);
    expect(periods[0]?.rate.value).toBeCloseTo(2000 / 240, 10);
    expect(periods[1]?.rate).toMatchObject({ value: 0, lower: 0, why: "no failures" });
  });

  test("periods add up to the whole, mode by mode", () => {
    for (const { item, mode, failures, hours } of modes) {
      const parts = periods.flatMap(({ byMode }) => byMode.filter((row) => row.item === item && row.mode === mode));
      expect(parts.reduce((sum, row) => sum + row.failures, 0)).toBe(failures);
      expect(parts.reduce((sum, row) => sum + row.hours, 0)).toBeCloseTo(hours, 9);
    }
  });
});

describe("scope", () => {
  test("by size", () =>
    expect(tally(whatFails({ toolType: "axial damper", sizeIn: 6.5 }))).toEqual({
      "main seal: leak": [0, 200],
      "main seal: extrusion": [0, 200],
      "J1: back-off": [1, 200],
    }));
  test("by serial", () =>
    expect(tally(whatFails({ serial: "T1" }))).toEqual({
      "main seal: leak": [1, 190],
      "main seal: extrusion": [1, 140],
      "J1: back-off": [0, 160],
    }));
  test("by item and by mode", () => {
    expect(Object.keys(tally(whatFails({ item: "J1" })))).toEqual(["J1: back-off"]);
    expect(Object.keys(tally(whatFails({ mode: "leak" })))).toEqual(["main seal: leak"]);
  });
  test("by customer: hours and failures of that customer's runs; customers add up", () => {
    const [a, b, all] = [whatFails({ customer: "A" }), whatFails({ customer: "B" }), whatFails()].map(tally);
    expect(a).toMatchObject({ "main seal: leak": [0, 100 + 50 + 80] });
    expect(b).toMatchObject({ "main seal: leak": [1, 40 + 120] });
    for (const [name, [failures, hours]] of Object.entries(all ?? {})) {
      expect((a?.[name]?.[0] ?? 0) + (b?.[name]?.[0] ?? 0)).toBe(failures);
      expect((a?.[name]?.[1] ?? 0) + (b?.[name]?.[1] ?? 0)).toBeCloseTo(hours ?? 0, 9);
    }
  });
  test("by dates, both included: runs by the day they came in, failures by the day they became known", () => {
    const until = tally(whatFails({ toolType: "axial damper", to: "2024-02-20" }));
    expect(until).toEqual({
      "main seal: leak": [1, 140],
      "main seal: extrusion": [0, 140],
      "J1: back-off": [0, 160],
    });
    const from = whatFails({ toolType: "axial damper", from: "2024-07-15" });
    expect(tally(from)).toMatchObject({ "main seal: leak": [0, 170] });
    expect(from).toMatchObject({ runs: 2, toolFailures: 0 });
    expect(from.hours.total).toBe(170);
  });
  test("a cut-off is the same as records that end there", () => {
    const cut = runStudy({ ...defaultStudy("what fails"), cutoff: "2024-03-12" }, handShop, context);
    if (cut.kind !== "what fails") throw new Error(cut.kind);
    expect(tally(cut)).toMatchObject({ "main seal: leak": [1, 140 + 80] });
    // Looked at only by L1 and L2: T2's first look is after the cut-off.
    expect(tally(cut)).toMatchObject({ "J1: back-off": [0, 160] });
  });
  test("nothing in scope is no failures and no hours, in words", () => {
    const none = whatFails({ customer: "nobody" });
    expect(none).toMatchObject({ tools: 0, runs: 0, toolFailures: 0 });
    expect(none.toolFailureRate).toMatchObject({ value: null, why: "no hours" });
    for (const { rate } of [...none.modes, ...none.periods, ...none.periods.flatMap(({ byMode }) => byMode)])
      expect(rate).toMatchObject({ value: null, why: "no hours" });
  });
});

describe("tool failures", () => {
  test("a failure that names nothing is an event of the tool", () => {
    expect(whatFails({ serial: "U1" }).toolEvents.map(({ event, run }) => [event, run])).toEqual([
      ["tool failure, cause masked", "f"],
    ]);
  });

  // Runs are counted through the lives they belong to; U1's only restoration has told nothing yet, so its run is lost.
  test("and its run counts, though no life has come of it yet", () => {
    expect(whatFails()).toMatchObject({ tools: 3, runs: 6, toolFailures: 2 });
    expect(whatFails().toolFailureRate.value).toBeCloseTo(2000 / 440, 10);
  });
});
