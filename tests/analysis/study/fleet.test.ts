// The board: the rule case by case, then every tool of a simulated fleet.
import { describe, expect, test } from "vitest";
import type { Records } from "../../../analysis/records/descriptor.ts";
import { defaultStudy, usualDecision } from "../../../analysis/study/definition.ts";
import type { FleetResult, LookedBack } from "../../../analysis/study/fleetTypes.ts";
import { readTool, type ToolFacts } from "../../../analysis/study/readTool.ts";
import { runStudy } from "../../../analysis/study/runStudy.ts";
import { sayAnswer } from "../../../analysis/wording/sayAnswer.ts";
import { sayFleetReason, sayLookBack } from "../../../analysis/wording/sayFleet.ts";
import { sayFleetHeat, sayHeatVerdict } from "../../../analysis/wording/sayHeat.ts";
import { defaultFleet } from "../../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../../datasets/sample-fleet/generator/simulateFleet.ts";

const good: ToolFacts = {
  failed: [],
  unknown: [],
  chance: { value: 0.03, lower: 0.02, upper: 0.05, confidence: 0.9, method: "parameter draws", unit: "fraction" },
  allowedChance: 0.1,
  hoursLeft: 90,
  run: 50,
  hoursSinceRedress: 80,
  intervalH: 200,
  recordsLate: false,
  lastRunOn: "2026-06-01",
  statusOn: "2026-06-30",
};

describe("the rule", () => {
  test.each([
    ["nothing speaks against it", {}, "inside its limit", ["inside"]],
    ["found failed", { failed: [{ item: "pin", mode: "wear" }] }, "redress due", ["found-failed"]],
    ["the interval is reached, to the hour", { hoursSinceRedress: 200 }, "redress due", ["interval-reached"]],
    ["four hours left", { hoursLeft: 4 }, "redress due", ["no-hours-left"]],
    ["the last run is missing", { recordsLate: true }, "not enough known", ["records-late"]],
    ["an age is missing", { unknown: [{ item: "J1", mode: "leak" }] }, "not enough known", ["age-unknown"]],
    ["nothing known", { chance: { ...good.chance, value: null, upper: null } }, "not enough known", ["nothing-known"]],
    ["the upper bound passes", { chance: { ...good.chance, upper: 0.11 } }, "look first", ["chance-too-high"]],
    ["the run passes the interval", { hoursSinceRedress: 151 }, "look first", ["interval-in-run"]],
    ["no interval decided", { intervalH: null, hoursSinceRedress: 400 }, "inside its limit", ["inside"]],
  ] as const)("%s", (_, change, reading, codes) => {
    const read = readTool({ ...good, ...change });
    expect(read.reading).toBe(reading);
    expect(read.reasons.map(({ code }) => code)).toEqual(codes);
  });

  test("a redress that is due is said even where records are late, with every reason", () => {
    const read = readTool({
      ...good,
      recordsLate: true,
      hoursSinceRedress: 260,
      failed: [{ item: "pin", mode: "wear" }],
    });
    expect(read.reading).toBe("redress due");
    expect(read.reasons.map(({ code }) => code)).toEqual(["found-failed", "interval-reached"]);
  });
});

const { recorded } = simulateFleet({ ...defaultFleet, serials: 20, seed: 6, to: "2025-12-31" });
const context = { dataHash: "simulated", statements: [], sample: true };
const ask = (records: Records = recorded, decision = {}): FleetResult => {
  const definition = { ...defaultStudy("fleet"), decision: { ...usualDecision, ...decision } };
  const result = runStudy(definition, records, context);
  if (result.kind !== "fleet") throw new Error(result.kind);
  return result;
};

describe("a simulated fleet", { timeout: 60_000 }, () => {
  const board = ask();

  test("every tool is on the board once, or lost or scrapped; plain JSON", () => {
    expect(board.tools.length + board.gone).toBe(recorded.tools?.length);
    expect(new Set(board.tools.map(({ serial }) => serial)).size).toBe(board.tools.length);
    expect(JSON.parse(JSON.stringify(board))).toEqual(board);
  });

  test("chances rise with the hours, bounds hold the estimate, and the sentence has no holes", () => {
    for (const { byHours, chance, reasons } of board.tools) {
      const { value, lower, upper } = byHours.chance;
      expect(value[0]).toBe(0);
      expect(value.every((one, at) => one >= (value[at - 1] ?? 0) - 1e-12)).toBe(true);
      expect(value.every((one, at) => lower[at]! <= one && one <= upper[at]!)).toBe(true);
      if (chance.value !== null) expect(chance.upper).toBeGreaterThanOrEqual(chance.value);
      for (const reason of reasons) expect(sayFleetReason(reason)).not.toMatch(/NaN|undefined|null|Infinity/);
    }
    expect(sayAnswer(board)).not.toMatch(/NaN|undefined|null/);
  });

  test("hours left are where the upper bound meets the allowed chance; a tighter allowance leaves fewer", () => {
    const tight = ask(recorded, { allowedChance: 0.03 });
    const left = new Map(tight.tools.map(({ serial, hoursLeft }) => [serial, hoursLeft ?? 0]));
    for (const { serial, hoursLeft } of board.tools) expect(left.get(serial)).toBeLessThanOrEqual(hoursLeft ?? 0);
  });

  test("a tool that is out with no open run has its records late, and is never read as inside its limit", () => {
    const [first] = recorded.tools ?? [];
    if (!first) throw new Error("no tools");
    const tools = (recorded.tools ?? []).map((tool) =>
      tool.serial === first.serial ? { ...tool, status: "out" as const, status_on: "2025-12-31" } : tool,
    );
    const runs = (recorded.runs ?? []).filter(({ serial, in_on }) => serial !== first.serial || in_on != null);
    const row = ask({ ...recorded, tools, runs }).tools.find(({ serial }) => serial === first.serial);
    expect(row?.recordsLate).toBe(true);
    expect(row?.reading).not.toBe("inside its limit");
  });

  test("no chance is given where a defect that leads to a stopped job was found and nobody restored it", () => {
    const found = (recorded.findings ?? []).find(
      ({ condition, severity }) => condition === "extrusion" && (severity ?? 0) >= 3,
    )!;
    const { serial, done_on: on } = (recorded.teardowns ?? []).find(({ teardown }) => teardown === found.teardown)!;
    // Nothing after that teardown: it still lies on the bench.
    const broken = ask({
      ...recorded,
      redresses: (recorded.redresses ?? []).filter((row) => row.serial !== serial || row.done_on < on),
      runs: (recorded.runs ?? []).filter((row) => row.serial !== serial || row.out_on < on),
      teardowns: (recorded.teardowns ?? []).filter((row) => row.serial !== serial || row.done_on <= on),
    }).tools.find((tool) => tool.serial === serial)!;
    expect(broken.reading).toBe("redress due");
    expect(broken.reasons[0]?.code).toBe("found-failed");
    expect(broken.chance).toMatchObject({ value: null, lower: null, upper: null, why: "found failed" });
    expect(broken.driver).toBeNull();
  });

  test("a planned run gives its hours; without one the tool type's middle run is taken", () => {
    const serial = board.tools[0]?.serial ?? "";
    const planned = [{ serial, start_on: "2026-01-10", hours: 77 }];
    const row = ask({ ...recorded, planned_runs: planned }).tools.find((tool) => tool.serial === serial);
    expect(row?.nextRun).toEqual({ hours: 77, source: "planned", startOn: "2026-01-10", celsius: null });
    const none = ask({ ...recorded, planned_runs: [] });
    expect(none.tools.every(({ nextRun }) => nextRun.source === "usual")).toBe(true);
  });
});

describe("heat of the wells", { timeout: 60_000 }, () => {
  const board = ask({ ...recorded, planned_runs: [] });
  const planned = (celsius: number) =>
    ask({
      ...recorded,
      planned_runs: (recorded.tools ?? []).map(({ serial }) => ({
        serial,
        start_on: "2026-01-10",
        hours: 60,
        max_temperature_C: celsius,
      })),
    });
  const [cool, hot] = [planned(90), planned(140)];

  test("seal modes of the simulated fleet are shown to follow it, joints and pins are not", () => {
    const following = board.heat.flatMap(({ modes }) =>
      modes.filter(({ verdict }) => verdict === "follows the heat").map(({ item }) => item),
    );
    expect(following.length).toBeGreaterThan(0);
    for (const item of following) expect(["main seal", "gate seal", "stack"]).toContain(item);
  });

  test("a hotter next run is never safer, and where a seal drives the chance it is clearly worse", () => {
    const chances = cool.tools.flatMap((tool) => {
      const there = hot.tools.find(({ serial }) => serial === tool.serial);
      return tool.chance.value === null || there?.chance.value == null
        ? []
        : [{ cool: tool.chance.value, hot: there.chance.value, driver: there.driver?.item }];
    });
    expect(chances.length).toBeGreaterThan(5);
    for (const one of chances) expect(one.hot).toBeGreaterThanOrEqual(one.cool - 1e-12);
    const bySeal = chances.filter(({ driver }) => driver === "main seal" || driver === "gate seal");
    expect(bySeal.length).toBeGreaterThan(0);
    expect(bySeal.some((one) => one.hot > 1.5 * one.cool)).toBe(true);
  });

  test("a temperature asked for stands in where no planned run gives one", () => {
    const asked = ask({ ...recorded, planned_runs: [] }, { wellC: 140 });
    expect(asked.tools.every(({ nextRun }) => nextRun.celsius === 140)).toBe(true);
    const serial = asked.tools[0]!.serial;
    const plan = [{ serial, start_on: "2026-01-10", hours: 60, max_temperature_C: 90 }];
    const own = ask({ ...recorded, planned_runs: plan }, { wellC: 140 }).tools.find((tool) => tool.serial === serial);
    expect(own?.nextRun.celsius).toBe(90);
    expect(sayFleetHeat(asked.heat[0]!, 140)).toContain("else at 140 °C (284 °F), as asked");
  });

  test("runs without temperatures leave hours as they are", () => {
    const runs = (recorded.runs ?? []).map((run) => ({ ...run, max_temperature_C: null }));
    const blind = ask({ ...recorded, runs, planned_runs: [] });
    expect(blind.heat).toEqual([]);
    for (const { modes } of blind.tools) for (const { heatAge } of modes) expect(heatAge).toBeNull();
  });

  test("is said in words without holes", () => {
    for (const heat of board.heat) {
      expect(sayFleetHeat(heat)).not.toMatch(/NaN|undefined|null/);
      for (const mode of heat.modes) expect(sayHeatVerdict(mode)).toMatch(/^(yes, p|not shown to, p|not tested: )/);
    }
  });
});

describe("a year ahead", { timeout: 60_000 }, () => {
  const asOf = (cutoff: string | null): FleetResult => {
    const result = runStudy({ ...defaultStudy("fleet"), cutoff }, recorded, context);
    if (result.kind !== "fleet") throw new Error(result.kind);
    return result;
  };

  test("months add up to the year; ranges hold the mean; nothing has come yet of the year to come", () => {
    const { forecast } = asOf(null);
    const months = forecast?.months ?? [];
    expect(months).toHaveLength(12);
    const sum = months.reduce((total, { failures }) => total + failures.mean, 0);
    expect(sum).toBeCloseTo(forecast?.failures.mean ?? -1, 6);
    expect(forecast?.failures.lower).toBeLessThanOrEqual(forecast?.failures.mean ?? -1);
    expect(forecast?.failures.upper).toBeGreaterThanOrEqual(forecast?.failures.mean ?? 1e9);
    expect(forecast?.lookBack).toEqual([]);
  });

  test("looked at from a past date it uses only what was known then, and what came is counted beside it", () => {
    const then = asOf("2024-12-31");
    expect(then.provenance.cutoff).toBe("2024-12-31");
    const lookBack = then.forecast?.lookBack ?? [];
    expect(lookBack.map(({ months }) => months)).toEqual([3, 6, 12]);
    const [quarter, half, year] = lookBack;
    expect(year!.actual).toBeGreaterThan(0);
    expect(quarter!.actual).toBeLessThanOrEqual(half!.actual);
    expect(half!.actual).toBeLessThanOrEqual(year!.actual);
    expect(quarter!.byLastYear).toBeCloseTo((then.forecast?.lastYear ?? -1) / 4, 9);
    for (const { foretold, useKnown } of lookBack)
      for (const { below, equal, mean, lower, upper } of [foretold, useKnown]) {
        expect(below + equal).toBeLessThanOrEqual(1 + 1e-9);
        expect(lower).toBeLessThanOrEqual(mean);
        expect(upper).toBeGreaterThanOrEqual(mean);
      }
    // The same records without anything later give the same forecast.
    const runs = (recorded.runs ?? []).filter(({ out_on }) => out_on <= "2024-12-31");
    const result = runStudy(
      { ...defaultStudy("fleet"), cutoff: "2024-12-31" },
      { ...recorded, runs, redresses: (recorded.redresses ?? []).filter(({ done_on }) => done_on <= "2024-12-31") },
      context,
    );
    if (result.kind !== "fleet") throw new Error(result.kind);
    expect(result.forecast?.failures).toEqual(then.forecast?.failures);
  });
});

describe("looks back, in words", () => {
  const count = (mean: number, lower: number, upper: number) => ({ mean, lower, upper, below: 0, equal: 0 });
  const look = (actual: number): LookedBack => ({
    months: 12,
    actual,
    foretold: count(8, 4, 12),
    useKnown: count(8, 4, 12),
    byLastYear: 11,
  });

  test("scored by range and by error, against last year's rate; nothing to score is said", () => {
    expect(sayLookBack([])).toContain("nothing can be scored");
    expect(sayLookBack([look(9), look(14)])).toBe(
      "What came lay inside the range in 1 of 2 looks back; the forecast was off by 3.5 on average, last year's rate by 2.5: no nearer than last year's rate. The looks overlap, so they say less than their number.",
    );
    expect(sayLookBack([look(8)])).toContain(
      "off by 0 on average, last year's rate by 3: nearer than last year's rate",
    );
  });
});
