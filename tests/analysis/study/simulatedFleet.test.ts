// Every question on a simulated fleet with everything that goes wrong: counts against the second derivation, sums, plain
// JSON, notices with exactly the facts that the wording needs, and a sentence for each answer.
import { describe, expect, test } from "vitest";
import { deriveLives } from "../../../analysis/lives/deriveLives.ts";
import { defaultStudy } from "../../../analysis/study/definition.ts";
import { runStudy } from "../../../analysis/study/runStudy.ts";
import type { ItemLifeResult, Notice, StudyResult, WhatFailsResult } from "../../../analysis/study/types.ts";
import { noticeFacts } from "../../../analysis/wording/noticeFacts.ts";
import { sayAnswer } from "../../../analysis/wording/sayAnswer.ts";
import { sayNotice } from "../../../analysis/wording/sayNotice.ts";
import { defaultFleet } from "../../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../../datasets/sample-fleet/generator/simulateFleet.ts";
import { slowLives } from "../../support/slowLives.ts";

const { recorded: records } = simulateFleet({ ...defaultFleet, serials: 12, seed: 21, to: "2024-12-31" });
const cutoff = "2024-12-31";
const context = { dataHash: "simulated", statements: ["A rebuild renews the main seal."], sample: true };
const ask = (definition: ReturnType<typeof defaultStudy>): StudyResult =>
  runStudy({ ...definition, cutoff }, records, context);

const pairs = [
  ...new Set(deriveLives(records, { cutoff }).lives.map(({ item, mode }) => JSON.stringify([item, mode]))),
].map((key) => JSON.parse(key) as [item: string, mode: string]);
const lifeOf = (item: string, mode: string, more = {}): ItemLifeResult => {
  const result = ask(defaultStudy("item life", { item, mode, ...more }));
  if (result.kind !== "item life") throw new Error(result.kind);
  return result;
};
const whatFails = (more = {}): WhatFailsResult => {
  const result = ask(defaultStudy("what fails", more));
  if (result.kind !== "what fails") throw new Error(result.kind);
  return result;
};
const serials = (records.tools ?? []).map(({ serial }) => serial);
const lives = pairs.map(([item, mode]) => lifeOf(item, mode));
const everything: readonly StudyResult[] = [
  ...lives,
  whatFails(),
  whatFails({ customer: (records.runs ?? []).find(({ customer }) => customer != null)?.customer ?? null }),
  whatFails({ from: "2024-01-01", to: "2024-06-30" }),
  ...serials.map((serial) => ask(defaultStudy("tool history", { serial }))),
];

test("a law that reaches below 0 h says how many it would let fail before they ran", () => {
  const pins = defaultStudy("item life", { item: "anti-rotation pin", mode: "wear" });
  const before = ask({ ...pins, law: "smallest extreme value" }).notices.find(({ code }) => code === "law-before-zero");
  expect(before?.facts.share).toBeGreaterThan(0.005);
  expect(before === undefined ? "" : sayNotice(before)).toContain("smallest extreme value law is not cut at 0 h");
  expect(ask(pins).notices.map(({ code }) => code)).not.toContain("law-before-zero");
});

describe("counts", { timeout: 60_000 }, () => {
  test("lives, no information and excluded are the restorations that the second derivation walks through", () => {
    const slow = slowLives(records, { cutoff });
    const restorations = [...slow.lives, ...slow.noInformationYet, ...slow.excluded];
    expect(lives.length).toBeGreaterThan(10);
    for (const { item, mode, counts } of lives) {
      const own = restorations.filter((row) => row.item === item && row.mode === mode);
      expect(counts.lives + counts.noInformation + counts.excluded, `${item}: ${mode}`).toBe(own.length);
    }
  });

  test("failures are the exact, the interval and the left ones; serials and reasons add up", () => {
    for (const { counts, excluded, noInformation } of lives) {
      expect(counts.failures).toBe(counts.exact + counts.interval + counts.left);
      expect(counts.lives).toBe(counts.failures + counts.right);
      expect(counts.serials).toBeLessThanOrEqual(serials.length);
      expect(counts.informativeLooks).toBeLessThanOrEqual(counts.looks);
      expect(excluded.reduce((sum, { count }) => sum + count, 0)).toBe(counts.excluded);
      expect(noInformation.reduce((sum, { count }) => sum + count, 0)).toBe(counts.noInformation);
    }
  });

  test("serial by serial, and type by type, add up to the whole", () => {
    const [item, mode] = pairs[0] ?? ["", ""];
    const whole = lifeOf(item, mode).counts;
    for (const key of ["lives", "failures", "noInformation", "excluded"] as const) {
      const parts = serials.map((serial) => lifeOf(item, mode, { serial }).counts[key]);
      expect(
        parts.reduce((sum, part) => sum + part, 0),
        key,
      ).toBe(whole[key]);
    }
    const types = [...new Set((records.tools ?? []).map(({ tool_type }) => tool_type))].map((toolType) =>
      whatFails({ toolType }),
    );
    expect(types.reduce((sum, { runs }) => sum + runs, 0)).toBe(whatFails().runs);
    expect(types.flatMap(({ modes }) => modes).length).toBe(whatFails().modes.length);
  });

  test("failures of a mode are the same number in both questions", () => {
    const { modes } = whatFails();
    for (const { item, mode, counts } of lives) {
      const rows = modes.filter((row) => row.item === item && row.mode === mode);
      expect(
        rows.reduce((sum, { failures }) => sum + failures, 0),
        `${item}: ${mode}`,
      ).toBe(counts.failures);
    }
  });
});

describe("hours", { timeout: 60_000 }, () => {
  const low = (age: number | readonly [number, number]) => (typeof age === "number" ? age : age[0]);
  const high = (age: number | readonly [number, number]) => (typeof age === "number" ? age : age[1]);

  test("used and unused are all run hours, whole and by type", () => {
    const { hours } = whatFails();
    for (const end of [low, high]) {
      const unused = hours.unused.reduce((sum, one) => sum + end(one.hours), 0);
      expect(end(hours.used) + unused).toBeCloseTo(end(hours.total), 6);
    }
    expect(hours.unused.length).toBeGreaterThan(0);
    const types = [...new Set((records.tools ?? []).map(({ tool_type }) => tool_type))].map(
      (toolType) => whatFails({ toolType }).hours,
    );
    expect(types.reduce((sum, { used }) => sum + low(used), 0)).toBeCloseTo(low(hours.used), 6);
  });

  test("half-years add up to the whole, mode by mode", () => {
    const { periods, modes } = whatFails();
    const sumOf = (rows: readonly { readonly failures: number; readonly hours: number }[]) => ({
      failures: rows.reduce((sum, row) => sum + row.failures, 0),
      hours: rows.reduce((sum, row) => sum + row.hours, 0),
    });
    for (const { item, mode } of modes) {
      const is = (row: { readonly item: string; readonly mode: string }) => row.item === item && row.mode === mode;
      const whole = sumOf(modes.filter(is));
      const parts = sumOf(periods.flatMap(({ byMode }) => byMode.filter(is)));
      expect(parts.failures, `${item}: ${mode}`).toBe(whole.failures);
      expect(parts.hours, `${item}: ${mode}`).toBeCloseTo(whole.hours, 6);
    }
  });

  test("no mode is watched for more hours than its tools ran", () => {
    const { modes, hours } = whatFails();
    for (const row of modes) expect(row.hours).toBeLessThanOrEqual(high(hours.used) + 1e-9);
  });
});

describe("plain data", { timeout: 60_000 }, () => {
  test("every result is the same after a trip through JSON: no NaN, no Infinity, nothing undefined", () => {
    for (const result of everything) expect(JSON.parse(JSON.stringify(result))).toStrictEqual(result);
  });

  test("the same question twice is the same answer, and rows in another order change nothing but hashes", () => {
    const reversed = Object.fromEntries(
      Object.entries(records).map(([table, rows]) => [table, rows.toReversed()]),
    ) as typeof records;
    const [item, mode] = pairs[1] ?? ["", ""];
    const definition = { ...defaultStudy("item life", { item, mode }), cutoff };
    const [first, again] = [records, reversed].map((one) => runStudy(definition, one, context));
    expect(runStudy(definition, records, context)).toEqual(first);
    expect(again).toEqual(first);
  });
});

describe("words", { timeout: 60_000 }, () => {
  const notices = everything.flatMap((result): readonly Notice[] => result.notices);

  test("there are notices of many kinds", () => {
    expect(new Set(notices.map(({ code }) => code)).size).toBeGreaterThan(10);
    expect(notices.map(({ code }) => code)).toContain("invented-data");
  });

  test("each carries the facts that its sentence needs and no others, or only how many there are", () => {
    const wrong = notices.filter(({ code, facts }) => {
      const names = Object.keys(facts).sort();
      const wanted: readonly string[] = noticeFacts[code];
      return names.join() !== wanted.toSorted().join() && names.join() !== "count";
    });
    const told = new Set(
      // See the next test.
      wrong
        .filter(({ code }) => code !== "few-failures")
        .map(({ code, facts }) => `${code}: ${Object.keys(facts).sort().join()}`),
    );
    expect([...told]).toEqual([]);
  });

  test("few failures behind one estimate: modes is there, and null", () => {
    const few = notices.filter(({ code }) => code === "few-failures");
    for (const { facts } of few) expect(Object.keys(facts).sort()).toEqual(["failures", "modes"]);
  });

  test("every notice and every answer is made of whole sentences", () => {
    for (const text of [...notices.map(sayNotice), ...everything.map(sayAnswer)]) {
      expect(text).toMatch(/^[A-Z0-9].*[.?!]$/s);
      expect(text).not.toMatch(/\b(NaN|undefined|null|Infinity)\b|\[object/);
    }
  });
});

test("hours of a half-year are those of all tool types, not of the type that ran most", () => {
  const types = [...new Set((records.tools ?? []).map(({ tool_type }) => tool_type))];
  expect(types.length).toBeGreaterThan(1);
  const parts = types.map((toolType) => whatFails({ toolType }).periods);
  for (const { label, hours, failures } of whatFails().periods) {
    const own = parts.flatMap((periods) => periods.filter((one) => one.label === label));
    expect(hours).toBeCloseTo(
      own.reduce((sum, one) => sum + one.hours, 0),
      6,
    );
    expect(failures).toBe(own.reduce((sum, one) => sum + one.failures, 0));
  }
});

describe("some tools, some wells", () => {
  const wells = [...new Set((records.runs ?? []).flatMap(({ well }) => (well == null ? [] : [well])))];
  const some = wells.filter((_, index) => index % 3 === 0);

  test("two serials together are each alone added up, in rates and in lives", () => {
    const [a = "", b = ""] = serials;
    const both = whatFails({ serials: [a, b] });
    const each = [whatFails({ serial: a }), whatFails({ serial: b })];
    expect(both.runs).toBe(each.reduce((sum, one) => sum + one.runs, 0));
    expect(both.runs).toBeGreaterThan(0);
    for (const { toolType, item, mode, failures } of both.modes) {
      const own = each.flatMap(({ modes }) =>
        modes.filter((row) => row.toolType === toolType && row.item === item && row.mode === mode),
      );
      expect(failures).toBe(own.reduce((sum, row) => sum + row.failures, 0));
    }
    const [item = "", mode = ""] = pairs[0] ?? [];
    expect(lifeOf(item, mode, { serials: [a, b] }).counts.lives).toBe(
      lifeOf(item, mode, { serial: a }).counts.lives + lifeOf(item, mode, { serial: b }).counts.lives,
    );
  });

  test("runs in some wells, and in the others, are all runs that name their well", () => {
    const named = (records.runs ?? []).filter(({ well }) => well != null).length;
    expect(named).toBe(records.runs?.length);
    const [inside, outside] = [
      whatFails({ wells: some }),
      whatFails({ wells: wells.filter((well) => !some.includes(well)) }),
    ];
    expect(inside.runs + outside.runs).toBe(whatFails().runs);
    expect(inside.runs).toBeGreaterThan(0);
    expect(inside.toolFailures + outside.toolFailures).toBe(whatFails().toolFailures);
    inside.modes.forEach((row) => {
      const rest = outside.modes.find(
        (one) => one.item === row.item && one.mode === row.mode && one.toolType === row.toolType,
      );
      const whole = whatFails().modes.find(
        (one) => one.item === row.item && one.mode === row.mode && one.toolType === row.toolType,
      );
      expect(row.failures + (rest?.failures ?? 0)).toBe(whole?.failures);
      expect(row.hours + (rest?.hours ?? 0)).toBeCloseTo(whole?.hours ?? 0, 6);
    });
  });
});
