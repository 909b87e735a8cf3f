// The fifteen misleading practices, each on a statement that commits it and on one that does not. Records are invented; the
// numbers both ways are worked out beside each.
import { describe, expect, test } from "vitest";
import type { GuardFinding, Records, StatementResult } from "../../../analysis/index.ts";
import {
  defaultStatement,
  guardStatement,
  type MisleadingPractice,
  misleadingPractices,
  sayGuard,
} from "../../../analysis/index.ts";
import { sayHonestNumber } from "../../../analysis/wording/statement/sayGuard.ts";
import { shopOf, spells, statementOf } from "../../support/statementShop.ts";

const find = (statement: StatementResult, practice: MisleadingPractice): GuardFinding | undefined =>
  guardStatement(statement).find((one) => one.practice === practice);

/** Found with these numbers and this state, and said in words without a gap. */
function expectFound(
  statement: StatementResult,
  practice: MisleadingPractice,
  { state, misleading, honest }: { state: GuardFinding["state"]; misleading: number | null; honest: number | null },
): GuardFinding {
  const found = find(statement, practice);
  if (!found) throw new Error(`${practice} was not found`);
  expect(found.state).toBe(state);
  for (const [number, expected] of [
    [found.misleading, misleading],
    [found.honest, honest],
  ] as const) {
    if (expected === null) expect(number.value).toBeNull();
    else expect(number.value).toBeCloseTo(expected, 6);
  }
  expect(sayGuard(found)).not.toMatch(/undefined|NaN|null|\[object|not known yet/);
  return found;
}

const change = { what: "harder seal", on: "2024-07-01", countedFrom: null, appliesTo: "runs" } as const;
const steady = shopOf(spells(40, { nth: 4 }));
/** 160 spells of 60 h on five tools, every fourth worn: 40 failures in 9,600 h, evenly over the hours of each tool. */
const longSteady = shopOf(spells(160, { nth: 4, from: "2022-01-04" }));

test("all fifteen are looked for", () => {
  expect(misleadingPractices).toHaveLength(15);
});

test("an honest statement of a steady shop shows none of them", () => {
  expect(guardStatement(statementOf(steady))).toEqual([]);
});

describe("mean times", () => {
  const asked = { asked: ["mean time between failures"] } as const;
  // 40 spells of 60 h, every fourth worn: 10 failures in 2,400 h. A joint backs off in 5 others.
  const withJoints: Records = {
    ...steady,
    findings: (steady.findings ?? []).map((row, index) =>
      index % 8 === 0 ? { teardown: row.teardown, item: "J1", condition: "back-off", severity: 4 } : row,
    ),
  };

  test("one mean time over two modes was asked for: 2,400 h over 15 failures, by mode instead", () => {
    const found = expectFound(statementOf(withJoints, asked), "mean time over mixed modes", {
      state: "put right",
      misleading: 2400 / 15,
      honest: (1000 * 10) / 2400,
    });
    expect(sayGuard(found)).toContain("rates by mode are given instead");
  });

  test("a mean time of one mode that carries it is not that practice, and nothing was asked for elsewhere", () => {
    expect(find(statementOf(longSteady, asked), "mean time over mixed modes")).toBeUndefined();
    expect(find(statementOf(withJoints), "mean time over mixed modes")).toBeUndefined();
  });

  test("a mean time that is printed says how many are still good at that age", () => {
    const statement = statementOf(longSteady, asked);
    const [mode] = statement.modes;
    expect(mode?.meanTime).toMatchObject({ mayBeSaid: true, why: [] });
    expectFound(statement, "mean time read as a life", {
      state: "put right",
      misleading: 240,
      honest: 100 * (mode?.meanTime.survivalAtMeanTime ?? Math.exp(-1)),
    });
    expect(find(statementOf(longSteady), "mean time read as a life")).toBeUndefined();
    expect(find(statementOf(steady, asked), "mean time read as a life")).toBeUndefined();
  });
});

describe("who is counted", () => {
  test("no life ended otherwise than by failure: the survivors were not written down", () => {
    const onlyFailures = shopOf(spells(8, { nth: 1 }));
    // Made-up joints were never looked at, or they would be survivors.
    const seals: Records = {
      ...onlyFailures,
      tool_items: (onlyFailures.tool_items ?? []).filter(({ item }) => item === "main seal"),
      joints: [],
    };
    expectFound(statementOf(seals), "survivors left out", { state: "stays", misleading: 30, honest: null });
    expect(find(statementOf(steady), "survivors left out")).toBeUndefined();
  });

  test("half of the runs were never looked at", () => {
    // 20 looked at with 5 failures in 1,200 h, 20 not looked at without one.
    const half = shopOf([
      ...spells(20, { nth: 4 }),
      ...spells(20, { from: "2024-06-04", prefix: "QX-20" }).map((one) => ({ ...one, unseen: true as const })),
    ]);
    expectFound(statementOf(half), "only tools that came back", {
      state: "stays",
      misleading: (1000 * 5) / 1200,
      honest: (1000 * 5) / 2400,
    });
    expect(find(statementOf(steady), "only tools that came back")).toBeUndefined();
  });

  test("another failure definition than in the statement before: the same records counted both ways", () => {
    const statement = statementOf(steady, { thresholds: { wear: 5 } }, { thresholds: {}, hoursKind: null });
    expectFound(statement, "definition changed", { state: "put right", misleading: 0, honest: 10 });
    expect(find(statementOf(steady, {}, { thresholds: {}, hoursKind: null }), "definition changed")).toBeUndefined();
  });

  test("items found failed on tools that came in as planned are counted by their condition", () => {
    const planned = shopOf(
      spells(40, { nth: 4 }).map((one, index) =>
        index === 3 || index === 7 ? { ...one, run: { pulled_because: "planned" as const } } : one,
      ),
    );
    expectFound(statementOf(planned), "planned redress of failed tools", {
      state: "put right",
      misleading: 8,
      honest: 10,
    });
    expect(find(statementOf(steady), "planned redress of failed tools")).toBeUndefined();
  });

  test("a tool failure of which the teardown found nothing is kept", () => {
    const mystery = shopOf(
      spells(40, { nth: 4 }).map((one, index) =>
        index === 0 ? { ...one, run: { pulled_because: "tool failure" as const } } : one,
      ),
    );
    expectFound(statementOf(mystery), "nothing found left out", {
      state: "put right",
      misleading: (1000 * 10) / 2400,
      honest: (1000 * 11) / 2400,
    });
    expect(find(statementOf(steady), "nothing found left out")).toBeUndefined();
  });
});

describe("exposure", () => {
  test("two muds with unlike rates in one number", () => {
    // 10 of 20 in oil base fail, none of 20 in water base.
    const muds = shopOf([
      ...spells(20, { nth: 2, run: { mud: "oil base" } }),
      ...spells(20, { from: "2024-06-04", run: { mud: "water base" } }),
    ]);
    const found = expectFound(statementOf(muds), "unlike tools pooled", {
      state: "put right",
      misleading: (1000 * 10) / 2400,
      honest: (1000 * 10) / 1200,
    });
    expect(found.facts).toMatchObject({ by: "mud", highest: "oil base", lowest: "water base", lowestRate: 0 });
    expect(find(statementOf(steady), "unlike tools pooled")).toBeUndefined();
  });

  test("circulating and drilling hours in one clock", () => {
    const kinds = shopOf(
      spells(40, { nth: 4 }).map((one, index) =>
        index % 2 === 0 ? { ...one, run: { hours_kind: "drilling" as const } } : one,
      ),
    );
    const statement = statementOf(kinds);
    const found = find(statement, "kinds of hours mixed");
    expect(found).toMatchObject({ state: "stays", honest: { value: null } });
    expect(found?.misleading.value).toBeCloseTo((1000 * 10) / statement.population.hours, 9);
    expect(find(statementOf(steady), "kinds of hours mixed")).toBeUndefined();
  });

  test("failures a month were asked for", () => {
    // 2 January to 1 October 2024: 9 months; 10 failures.
    expectFound(statementOf(steady, { asked: ["failures a month"] }), "calendar instead of exposure", {
      state: "put right",
      misleading: 10 / 9,
      honest: (1000 * 10) / 2400,
    });
    expect(find(statementOf(steady), "calendar instead of exposure")).toBeUndefined();
  });

  test("a run longer than any life followed", () => {
    const statement = statementOf(steady, { runHours: 400 });
    const found = find(statement, "beyond experience");
    expect(found).toMatchObject({ state: "put right", honest: { value: 60, unit: "h" } });
    expect(statement.modes[0]?.life?.survival).toBeNull();
    expect(find(statementOf(steady, { runHours: 60 }), "beyond experience")).toBeUndefined();
  });
});

describe("comparing", () => {
  const compared = (records: Records, more = {}) =>
    statementOf(records, { ...defaultStatement(), kind: "before and after", change, ...more });

  test("points that look different while the bounds hold 1", () => {
    // Before 26 spells with 6 worn (1,560 h), after 14 with 2 (840 h): points say 0.62 times.
    const records = shopOf([...spells(26, { nth: 4 }), ...spells(14, { from: "2024-07-02", nth: 7 })]);
    const found = expectFound(compared(records), "points compared without bounds", {
      state: "put right",
      misleading: 2 / 840 / (6 / 1560),
      honest: compared(records).beforeAfter?.comparisons[0]?.ratio.value ?? Number.NaN,
    });
    expect(found.facts.what).toBe("runs that the tool ended");
    expect(sayGuard(found)).toContain("no difference is claimed");
    // The points can be alike; what differs is that bounds stand beside the honest one.
    expect(sayHonestNumber(found)).toMatch(/^[\d.]+ times \([\d.]+–[\d.]+\)$/);
  });

  test("a clear difference, or none to be seen, is not that practice", () => {
    const clear = shopOf([...spells(26, { nth: 1 }), ...spells(60, { from: "2024-07-02", every: 1 })]);
    expect(find(compared(clear), "points compared without bounds")).toBeUndefined();
    expect(find(statementOf(steady), "points compared without bounds")).toBeUndefined();
  });

  test("a period that leaves out worse history", () => {
    // Before 2024-07-01 every spell is worn, after it one of 14: 27 of 40 against 1 of 14.
    const records = shopOf([...spells(26, { nth: 1 }), ...spells(14, { from: "2024-07-02", nth: 14 })]);
    const statement = statementOf(records, { scope: { ...defaultStatement().scope, from: "2024-07-01" } });
    expectFound(statement, "window picked", {
      state: "put right",
      misleading: 1000 / 840,
      honest: (1000 * 27) / 2400,
    });
    expect(
      find(statementOf(steady, { scope: { ...defaultStatement().scope, from: "2024-07-01" } }), "window picked"),
    ).toBeUndefined();
  });

  test("'after' begins after the first failures of the change", () => {
    const records = shopOf([
      ...spells(26, { nth: 4 }),
      ...spells(3, { from: "2024-07-02", nth: 1 }),
      ...spells(14, { from: "2024-08-01" }),
    ]);
    const late = compared(records, { change: { ...change, countedFrom: "2024-08-01" } });
    // Without the three: none in 840 h against 6 in 1,560 h. With them: 3 in 1,020 h.
    const found = expectFound(late, "window picked", {
      state: "put right",
      misleading: 0,
      honest: 3 / 1020 / (6 / 1560),
    });
    expect(found.facts).toMatchObject({ failures: 3, about: "after" });
    expect(find(compared(records), "window picked")).toBeUndefined();
  });

  test("the best of several comparisons, not clear once their number is allowed for", () => {
    const base = compared(shopOf([...spells(26, { nth: 4 }), ...spells(14, { from: "2024-07-02", nth: 7 })]));
    const [first] = base.beforeAfter?.comparisons ?? [];
    if (!first || !base.beforeAfter) throw new Error("nothing compared");
    const with_ = (pValue: number, adjustedPValue: number): StatementResult => ({
      ...base,
      beforeAfter: {
        ...base.beforeAfter!,
        comparisons: [{ ...first, pValue, adjustedPValue, verdict: "no difference shown" }, first],
      },
    });
    expectFound(with_(0.04, 0.4), "best of many", { state: "put right", misleading: 0.04, honest: 0.4 });
    expect(find(with_(0.004, 0.04), "best of many")).toBeUndefined();
    expect(find(with_(0.4, 1), "best of many")).toBeUndefined();
  });

  test("a change made after the worst stretch of its length", () => {
    // 90 days with 9 worn of 13 before the change; before that 30 spells over 210 days, 7 worn.
    const records = shopOf([
      ...spells(30, { from: "2023-09-05", nth: 4 }),
      ...spells(13, { from: "2024-04-02", nth: 1 }).map((one, index) => ({ ...one, worn: index < 9 })),
      ...spells(13, { from: "2024-07-02", nth: 4 }),
    ]);
    const scope = { ...defaultStatement().scope, from: "2024-04-02" };
    const statement = compared(records, { scope });
    // 3 in 780 h after; 9 in 780 h in the stretch; 7 + 9 in 2,580 h in all history before.
    const found = expectFound(statement, "worst stretch chosen", {
      state: "stays",
      misleading: 3 / 9,
      honest: 3 / 780 / (16 / 2580),
    });
    expect(found.facts.stretches).toBe(3);
    const calm = shopOf([...spells(43, { from: "2023-09-05", nth: 4 }), ...spells(13, { from: "2024-07-02", nth: 4 })]);
    expect(find(compared(calm, { scope }), "worst stretch chosen")).toBeUndefined();
  });
});
