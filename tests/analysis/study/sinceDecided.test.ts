// What came of a decision: a shop worked by hand; decisions at the ends of the records; sums against the sample's own runs.
import { describe, expect, test } from "vitest";
import type { Records, Row } from "../../../analysis/records/descriptor.ts";
import { defaultStudy } from "../../../analysis/study/definition.ts";
import { runStudy } from "../../../analysis/study/runStudy.ts";
import type { SinceDecided } from "../../../analysis/study/sinceDecidedTypes.ts";
import { cleanFleet, defaultFleet } from "../../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../../datasets/sample-fleet/generator/simulateFleet.ts";

const context = { dataHash: "by hand", statements: [], sample: false };

function ask(records: Records, scope: object): SinceDecided | null {
  const result = runStudy(defaultStudy("redress interval", scope), records, context);
  if (result.kind !== "redress interval") throw new Error(result.kind);
  return result.sinceDecided;
}

const decision = (dated_on: string, more: Partial<Row<"decisions">> = {}): Row<"decisions"> => ({
  tool_type: "Valve",
  item: "whole tool",
  dated_on,
  statement: "From this date we redress at 60 h.",
  interval_h: 60,
  ...more,
});

/**
 * Six valves, each built on 2 January 2024 and rebuilt on 2 July. The first life runs 60 h and 60 h (in on 20 January and 20
 * March), the second 60 h (in on 20 August). An evident leak: V-1, V-2 and V-3 fail at 110 h of the first life, V-4 at 40 h of
 * the second. The scuff is hidden and never found.
 */
function valves(): Records {
  const serials = [1, 2, 3, 4, 5, 6].map((one) => `V-${one}`);
  const run = (serial: string, name: string, out_on: string, in_on: string, failedAt: number | null) => ({
    ...{ run: `${name} ${serial}`, serial, out_on, in_on, hours: failedAt ?? 60, hours_kind: "circulating" as const },
    ...(failedAt === null
      ? { pulled_because: "planned" as const }
      : { pulled_because: "tool failure" as const, item_seen: "seal", mode_seen: "leak", hour_seen: failedAt }),
  });
  const early = (serial: string) => ["V-1", "V-2", "V-3"].includes(serial);
  return {
    tool_items: [{ tool_type: "Valve", item: "seal", kind: "seal", position: 1 }],
    modes: [
      { item: "seal", mode: "leak", announces: "evident", threshold: 3, restored_by: "renewed" },
      { item: "seal", mode: "scuff", announces: "hidden", threshold: 3, restored_by: "renewed" },
    ],
    tools: serials.map((serial) => ({ serial, tool_type: "Valve", hours_at_entry: 0, status: "in shop" })),
    redresses: serials.flatMap((serial) => [
      { redress: `R1 ${serial}`, serial, done_on: "2024-01-02", reason: "new" as const },
      { redress: `R2 ${serial}`, serial, done_on: "2024-07-02", reason: "planned" as const },
    ]),
    fitted_items: serials.flatMap((serial) =>
      ["R1", "R2"].map((redress) => ({ redress: `${redress} ${serial}`, item: "seal", renewed: true })),
    ),
    runs: serials.flatMap((serial) => [
      run(serial, "a", "2024-01-10", "2024-01-20", null),
      run(serial, "b", "2024-03-10", "2024-03-20", early(serial) ? 50 : null),
      run(serial, "c", "2024-08-10", "2024-08-20", serial === "V-4" ? 40 : null),
    ]),
  };
}

describe("a shop of six valves, by hand", () => {
  const since = ask({ ...valves(), decisions: [decision("2024-06-01")] }, { toolType: "Valve" })!;

  // Before: 6 x 60 + 3 x 50 + 3 x 60 = 690 h, 3 failures at 110 h. Since: 5 x 60 + 40 = 340 h, 1 failure at 40 h.
  test("failures and hours fall on the side of the day the run came in; the hidden mode stops no job and is left out", () => {
    expect(since).toMatchObject({ counts: "stopped jobs", state: "compared", countedFrom: null, modes: [] });
    const { before, after, crudeRatio } = since.total.asTheyCame;
    expect([before.failures, before.hours, after.failures, after.hours]).toEqual([3, 690, 1, 340]);
    expect(crudeRatio).toBeCloseTo(1 / 340 / (3 / 690), 12);
    expect(since.total.asTheyCame.ratio.value).toBeCloseTo(1 / 340 / (3 / 690), 8);
  });

  // Ages before: 0-50 h 300 h, 50-100 h 300 h, 100-200 h 3 x 10 + 3 x 20 = 90 h. Since: 5 x 50 + 40 = 290 h, and 5 x 10 = 50 h.
  test("hours and failures by age add up to them", () => {
    expect(since.ages.map(({ before, after }) => [before.hours, before.failures, after.hours, after.failures])).toEqual(
      [
        [300, 0, 290, 1],
        [300, 0, 50, 0],
        [90, 3, 0, 0],
        [0, 0, 0, 0],
        [0, 0, 0, 0],
      ],
    );
  });

  // At the same ages only the one failure since counts: the three before are older than anything has run since.
  test("at the same ages, failures at ages not run since say nothing", () => {
    const { ratio, verdict } = since.total.sameAge;
    expect([ratio.value, ratio.why, ratio.upper]).toEqual([null, "not reached", null]);
    // All of one failure after: the lower bound solves odds / (1 + odds) = 0.05 with odds = ratio x 290 / 300.
    expect(ratio.lower).toBeCloseTo(((0.05 / 0.95) * 300) / 290, 8);
    expect(verdict).toBe("too little to tell");
    // 340 h at 3 in 690 h: 1.48 failures would have come.
    expect(since.total.asTheyCame).toMatchObject({ verdict: "too little to tell" });
    expect(since.total.asTheyCame.expectedAfter).toBeCloseTo((3 * 340) / 690, 12);
    expect(since.total.sameAge.expectedAfter).toBe(0);
  });

  test("half of the planned redresses: all six at 110 to 120 h, before and not since", () => {
    expect(since.planned.before).toBeNull();
    expect(since.planned.after).toMatchObject({ planned: 6, quarter: 110, middle: 115, threeQuarters: 120 });
  });
});

test("without a decision there is nothing to tell; one of another tool type or after the cut-off is none", () => {
  expect(ask(valves(), { toolType: "Valve" })).toBeNull();
  const decisions = [decision("2024-06-01", { tool_type: "Reamer" }), decision("2026-01-01")];
  expect(ask({ ...valves(), decisions }, { toolType: "Valve" })).toBeNull();
});

test("at the ends of the records: nothing ran before, nothing has run since", () => {
  const early = ask({ ...valves(), decisions: [decision("2023-01-01")] }, { toolType: "Valve" });
  expect(early).toMatchObject({
    state: "nothing before",
    total: { asTheyCame: { after: { failures: 4, hours: 1030 } } },
  });
  // The records end on 20 August with the last runs: a decision of that day has only those.
  const late = ask({ ...valves(), decisions: [decision("2024-08-20")] }, { toolType: "Valve" });
  expect(late).toMatchObject({ state: "compared", total: { asTheyCame: { after: { hours: 340 } } } });
  const { runs = [], ...records } = valves();
  const last = { ...records, runs: runs.filter(({ in_on }) => in_on !== "2024-08-20") };
  const after = ask({ ...last, decisions: [decision("2024-07-02")] }, { toolType: "Valve" });
  expect(after).toMatchObject({ state: "nothing since", cutoff: "2024-07-02" });
});

test("the stretch before begins with the decision that held then; an item's own decision comes before the tool's", () => {
  const decisions = [decision("2024-03-01"), decision("2024-06-01")];
  const whole = ask({ ...valves(), decisions }, { toolType: "Valve" });
  expect(whole).toMatchObject({ countedFrom: "2024-03-01", total: { asTheyCame: { before: { hours: 330 } } } });
  const own = [...decisions, decision("2024-04-01", { item: "seal" })];
  const seal = ask({ ...valves(), decisions: own }, { toolType: "Valve", item: "seal" });
  expect(seal).toMatchObject({ decision: { datedOn: "2024-04-01", item: "seal" }, countedFrom: "2024-03-01" });
  expect(seal?.planned).toEqual({ before: null, after: null });
});

describe("on the simulated fleet", { timeout: 60_000 }, () => {
  const fleet = simulateFleet({ ...defaultFleet, ...cleanFleet, serials: 24, seed: 5, to: "2025-12-31" }).recorded;
  const halfway: Records = {
    ...fleet,
    decisions: [decision("2024-09-01", { tool_type: "axial damper", interval_h: 150 })],
  };
  const since = ask(halfway, { toolType: "axial damper" })!;

  test("failures of the modes add up to those of all; every mode ran no more hours than the tools", () => {
    for (const side of ["before", "after"] as const) {
      const sum = since.modes.reduce((all, row) => all + row.asTheyCame[side].failures, 0);
      expect(since.total.asTheyCame[side].failures).toBe(sum);
      for (const { asTheyCame } of since.modes)
        expect(asTheyCame[side].hours).toBeLessThanOrEqual(since.total.asTheyCame[side].hours + 1e-6);
      const aged = since.ages.reduce((all, band) => all + band[side].failures, 0);
      expect(aged).toBe(sum);
    }
    expect(since.modes.length).toBeGreaterThan(1);
  });

  test("hours of all are those that the damper's runs wrote down, but for hours after a failure and runs without a build", () => {
    const own = new Set(
      (halfway.tools ?? []).filter(({ tool_type }) => tool_type === "axial damper").map(({ serial }) => serial),
    );
    const written = (halfway.runs ?? [])
      .filter(({ serial }) => own.has(serial))
      .reduce((sum, { hours }) => sum + (hours ?? 0), 0);
    const { before, after } = since.total.asTheyCame;
    expect(before.hours + after.hours).toBeLessThanOrEqual(written * 1.01);
    expect(before.hours + after.hours).toBeGreaterThan(written * 0.9);
  });

  test("is plain JSON, the same when asked again, and p-values allow for every row", () => {
    expect(JSON.parse(JSON.stringify(since))).toEqual(since);
    expect(ask(halfway, { toolType: "axial damper" })).toEqual(since);
    for (const { asTheyCame, sameAge } of [since.total, ...since.modes])
      for (const one of [asTheyCame, sameAge]) expect(one.adjustedPValue).toBeGreaterThanOrEqual(one.pValue);
  });
});

// 48 failures in 12,360 h before; since, none in 60 h, where 0.23 would have come.
test("however many failed before, a short time since tells nothing", () => {
  const { runs = [], ...shop } = copies(12);
  const late = { ...runs[0]!, run: "late", out_on: "2024-09-01", in_on: "2024-09-05", hours: 60 };
  const since = ask({ ...shop, runs: [...runs, late], decisions: [decision("2024-09-01")] }, { toolType: "Valve" })!;
  expect(since.total.asTheyCame).toMatchObject({
    before: { failures: 48, hours: 12_360 },
    after: { failures: 0, hours: 60 },
    verdict: "too little to tell",
  });
  expect(since.total.asTheyCame.expectedAfter).toBeCloseTo((48 * 60) / 12_360, 12);
});

test("fewer per hour, and yet more at the same ages: the two are told apart", { timeout: 60_000 }, () => {
  const since = ask({ ...copies(12), decisions: [decision("2024-06-01")] }, { toolType: "Valve" })!;
  // 36 in 8,280 h against 12 in 4,080 h: 0.68; the 36 are all older than anything since, the 12 younger than any before.
  expect(since.total.asTheyCame).toMatchObject({
    before: { failures: 36, hours: 8280 },
    after: { failures: 12, hours: 4080 },
  });
  expect(since.total.asTheyCame.verdict).toBe("no difference shown");
  expect(since.total.sameAge.verdict).toBe("more");
});

/** So many shops of valves as one. */
function copies(count: number): Records {
  const all = Array.from({ length: count }, (_, copy) => renamed(`${copy}`));
  const together = <T extends keyof Records>(table: T) => all.flatMap((one): readonly Row<T>[] => one[table] ?? []);
  return {
    ...valves(),
    tools: together("tools"),
    redresses: together("redresses"),
    fitted_items: together("fitted_items"),
    runs: together("runs"),
  };
}

function renamed(copy: string): Records {
  const text = JSON.stringify(valves()).replaceAll("V-", `W${copy}-`);
  return JSON.parse(text) as Records;
}
