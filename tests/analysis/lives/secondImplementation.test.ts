// The derivation against a second one (tests/support/slowLives.ts), written from the text of the design by someone who had
// not read the first: nineteen hand-worked histories, random histories of two kinds, and simulated fleets, row by row.
// At the end, as short as they get, the histories at which the second reader once caught the first.
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { dateOf } from "../../../analysis/lives/calendar.ts";
import { deriveLives } from "../../../analysis/lives/deriveLives.ts";
import type { DerivedLives } from "../../../analysis/lives/types.ts";
import type { Records, Row } from "../../../analysis/records/descriptor.ts";
import { cleanFleet, defaultFleet } from "../../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../../datasets/sample-fleet/generator/simulateFleet.ts";
import { randomRecords } from "../../support/randomRecords.ts";
import { type SlowLives, slowLives } from "../../support/slowLives.ts";

type Derived = Pick<DerivedLives, "lives" | "noInformationYet" | "excluded"> | SlowLives;
interface Named {
  readonly serial: string;
  readonly item: string;
  readonly mode: string;
  readonly since: string;
}

const nameOf = ({ serial, item, mode, since }: Named) => `${serial}, ${item}: ${mode}, since ${since}`;

/** Every restoration and where it was put, in words that compare. */
function placed({ lives, noInformationYet, excluded }: Derived): Map<string, string> {
  const age = (value: unknown) => JSON.stringify(value);
  return new Map([
    ...lives.map(
      (one) =>
        [nameOf(one), `${one.kind} ${age(one.lower)} to ${age(one.upper)}, seen from ${age(one.entry)}`] as const,
    ),
    ...noInformationYet.map((one) => [nameOf(one), `no information: ${one.reason}`] as const),
    ...excluded.map((one) => [nameOf(one), `excluded: ${one.reason}`] as const),
  ]);
}

/** Rows that the two derivations put differently, and how many rows there were. */
function compare(records: Records, cutoff: string) {
  const slow = slowLives(records, { cutoff });
  const theirs = placed(slow);
  const ours = placed(deriveLives(records, { cutoff }));
  const differences = [...new Set([...ours.keys(), ...theirs.keys()])]
    .filter((name) => ours.get(name) !== theirs.get(name))
    .map((name) => ({ name, first: ours.get(name), second: theirs.get(name) }));
  return { differences, rows: theirs.size };
}

describe("the second derivation", () => {
  interface Case {
    readonly name: string;
    readonly cutoff: string;
    readonly records: Records;
    readonly expected: Pick<SlowLives, "lives" | "noInformationYet" | "excluded">;
  }
  const { cases } = JSON.parse(readFileSync(new URL("../../reference/lives.json", import.meta.url), "utf8")) as {
    cases: Case[];
  };
  test.each(cases.map((one) => [one.name, one] as const))("works the history by hand: %s", (_name, one) => {
    const serial = one.records.tools?.[0]?.serial ?? "";
    const withSerial = <T extends object>(rows: readonly T[]) => rows.map((row) => ({ ...row, serial }));
    const expected = placed({
      lives: withSerial(one.expected.lives),
      noInformationYet: withSerial(one.expected.noInformationYet),
      excluded: withSerial(one.expected.excluded),
    });
    expect(placed(slowLives(one.records, { cutoff: one.cutoff }))).toEqual(expected);
  });
});

describe("both derivations put every restoration in the same place with the same ages", { timeout: 60_000 }, () => {
  test("on random histories of one shop", () => {
    let seen = 0;
    fc.assert(
      fc.property(randomRecords(), (records) => {
        const { differences, rows } = compare(records, "2040-01-01");
        seen += rows;
        expect(differences).toEqual([]);
      }),
      { numRuns: 500, seed: 20260630 },
    );
    expect(seen).toBeGreaterThan(1500);
  });

  test("on histories with items moved between tools, pressure tests, chains of modes, unlisted names, runs still out", () => {
    let seen = 0;
    fc.assert(
      fc.property(busyShop(), ({ records, cutoff }) => {
        const { differences, rows } = compare(records, cutoff);
        seen += rows;
        expect(differences).toEqual([]);
      }),
      { numRuns: 500, seed: 20260630 },
    );
    expect(seen).toBeGreaterThan(1500);
  });

  test.each([
    ["clean", { ...cleanFleet, serials: 15, seed: 11 }],
    ["with everything that goes wrong", { ...defaultFleet, serials: 15, seed: 12 }],
  ] as const)("on a simulated fleet, %s", (_name, options) => {
    const fleet = simulateFleet({ ...options, to: "2025-06-30" });
    for (const records of [fleet.records, fleet.recorded]) {
      const { differences, rows } = compare(records, "2025-06-30");
      expect(rows).toBeGreaterThan(300);
      expect(differences).toEqual([]);
    }
  });

  test("known on an earlier date: the same again with a cut-off in the middle of the records", () => {
    const { recorded } = simulateFleet({ ...defaultFleet, serials: 12, seed: 13, to: "2024-12-31" });
    for (const cutoff of ["2023-09-15", "2024-03-31"]) expect(compare(recorded, cutoff).differences).toEqual([]);
  });
});

describe("histories at which the second reader caught the first", () => {
  const carried = (hours: number | null, more: object = {}) => ({ renewed: false, age_at_fitting_h: hours, ...more });
  const of = (records: Records, mode: string, since = "R1") =>
    [...placed(deriveLives(records, { cutoff: "2026-01-01" }))].find(
      ([name]) => name.includes(`: ${mode}, `) && name.endsWith(`since ${since}`),
    )?.[1];

  test("hours run before the first build are not nothing: the age of what that build carries over is unknown", () => {
    const records = history({
      build: "2025-02-01",
      main: carried(null),
      J1: carried(null),
      runs: [
        [1, 100],
        [2, 50],
      ],
    });
    expect(of(records, "leak")).toBe("excluded: age unknown when records begin");
  });

  test("what is found failed before it ran again is no failure at exactly the hours it was fitted with", () => {
    const records = history({
      main: carried(100),
      J1: carried(100),
      looks: [[1, "stripped", ["main seal", "leak", 4]]],
    });
    expect(of(records, "leak")).toMatch(/^excluded/);
  });

  test("an outside look after a clean one does not undo it: seen sound on entry", () => {
    const before = { on: "2024-12-30", kind: "stripped" as const, item: "J1" };
    const after = { on: "2024-12-31", kind: "outside only" as const, item: "J1" };
    const records = history({ main: carried(100), J1: carried(100), before: [before, after], runs: [[1, 10]] });
    expect(of(records, "galling")).toBe("no information: not looked at since restored");
  });

  test("a look at the joint that was in place says nothing of the used one that takes its place", () => {
    const swapped = { on: "2025-01-28", J1: carried(300, { item_serial: "P9" }) };
    const records = history({
      J1: { renewed: true, item_serial: "P1" },
      runs: [
        [1, 10],
        [2, 20],
      ],
      looks: [
        [1, "stripped", ["J1", "sound", 0]],
        [2, "stripped", ["J1", "galling", 4]],
      ],
      redress: swapped,
    });
    expect(of(records, "galling", "R2")).toBe("excluded: condition unknown when records begin");
  });

  test("extrusion leads to leak: it was there by the leak, though nobody has looked yet", () => {
    const records = history({ runs: [[1, 10, { item_seen: "main seal", mode_seen: "leak", hour_seen: 5 }]] });
    expect(of(records, "extrusion")).toBe("left 0 to 5, seen from 0");
  });

  test("the leak bounds the extrusion also where hours are missing", () => {
    const records = history({
      runs: [
        [1, null],
        [2, null],
      ],
      looks: [
        [1, "outside only", ["main seal", "leak", 4]],
        [2, "stripped", ["main seal", "extrusion", 4]],
      ],
    });
    expect(of(records, "extrusion")).toBe("left 0 to [0,264], seen from 0");
  });

  test("made up is made up: back-off of a used joint starts at 0, its galling at its hours", () => {
    const records = history({
      J1: { renewed: true, age_at_fitting_h: 300 },
      runs: [[1, 10]],
      looks: [[1, "stripped", ["J1", "sound", 0]]],
    });
    expect(of(records, "back-off")).toBe("right 10 to null, seen from 0");
  });

  test("a leak at hour 0 of a run is a failure of a tool that went out, no build reject", () => {
    const records = history({ runs: [[1, 10, { item_seen: "main seal", mode_seen: "leak", hour_seen: 0 }]] });
    expect(of(records, "leak")).not.toMatch(/build reject/);
  });

  test("a tool lost in hole is an event also where the return date is blank, as it must be", () => {
    const records = history({
      runs: [
        [1, 10],
        [2, 20, { in_on: null, pulled_because: "lost in hole" }],
      ],
    });
    expect(deriveLives(records, { cutoff: "2026-01-01" }).toolEvents.map(({ event }) => event)).toEqual([
      "lost in hole",
    ]);
  });

  test("sound at a pressure test and extruded the day after, no run between: not a failure at exactly that age", () => {
    const records = history({
      runs: [
        [1, 60],
        [2, 40],
      ],
      looks: [
        [1, "stripped", ["main seal", "sound", 0]],
        [2, "pressure test", ["main seal", "sound", 0]],
        [3, "stripped", ["main seal", "extrusion", 4]],
      ],
    });
    expect(of(records, "extrusion")).toBe("interval 60 to 100, seen from 0");
  });

  test("one item number in two tools at once is told", () => {
    const {
      redresses = [],
      fitted_items = [],
      runs = [],
      tools = [],
      ...rest
    } = history({
      J1: { renewed: true, item_serial: "P1" },
      runs: [
        [1, 10],
        [2, 20],
      ],
    });
    const records: Records = {
      ...rest,
      tools: [...tools, { serial: "T2", tool_type: "axial damper", hours_at_entry: 0 }],
      redresses: [...redresses, { redress: "R9", serial: "T2", done_on: "2025-02-01", reason: "planned" }],
      fitted_items: [...fitted_items, { redress: "R9", item: "J1", renewed: false, item_serial: "P1" }],
      runs: [...runs, { ...runs[1]!, run: "9", serial: "T2", hours: 30 }],
    };
    const { lives, notices } = deriveLives(records, { cutoff: "2026-01-01" });
    expect(lives.length).toBeGreaterThan(0);
    expect(notices.map(({ code }) => code)).not.toEqual([]);
  });
});

type Fit = Omit<Row<"fitted_items">, "redress" | "item">;
type Kind = Row<"teardowns">["kind"];

/** One tool, built once as new unless said otherwise: runs and looks by their month, the run on day 10 to 20, the look on day 25. */
function history({
  build = "2025-01-01",
  main = { renewed: true },
  J1 = { renewed: true },
  before = [],
  runs = [],
  looks = [],
  redress = null,
}: {
  readonly build?: string;
  readonly main?: Fit;
  readonly J1?: Fit;
  readonly before?: readonly {
    readonly on: string;
    readonly kind: "stripped" | "outside only";
    readonly item: string;
  }[];
  readonly runs?: readonly (readonly [month: number, hours: number | null, more?: Partial<Row<"runs">>])[];
  readonly looks?: readonly (readonly [
    number: number,
    kind: Kind,
    found: readonly [item: string, condition: string, severity: number],
  ])[];
  readonly redress?: { readonly on: string; readonly J1: Fit } | null;
}): Records {
  const serial = "T1";
  const torn: Row<"teardowns">[] = [
    ...before.map(({ on, kind, item }, index) => ({
      ...{ teardown: `before ${index}`, serial, done_on: on, why: "planned" as const, kind, scope: [item] },
    })),
    // A third look is the day after the second.
    ...looks.map(([number, kind]) => ({
      ...{ teardown: `look ${number}`, serial, why: "planned" as const, kind: kind ?? null, scope: [] },
      done_on: number === 3 ? "2025-02-26" : `2025-0${number}-25`,
    })),
  ];
  return {
    tool_items: items.filter(({ item }) => item !== "pin"),
    modes: modes.filter(({ mode, item }) => mode !== "nibbling" && item !== "pin"),
    tools: [{ serial, tool_type: "axial damper", hours_at_entry: 0 }],
    redresses: [
      { redress: "R1", serial, done_on: build, reason: "new" },
      ...(redress ? [{ redress: "R2", serial, done_on: redress.on, reason: "planned" as const }] : []),
    ],
    joints: J1.renewed ? [{ redress: "R1", joint: "J1" }] : [],
    fitted_items: [
      { ...main, redress: "R1", item: "main seal" },
      { ...J1, redress: "R1", item: "J1" },
      ...(redress
        ? [
            { renewed: true, redress: "R2", item: "main seal" },
            { ...redress.J1, redress: "R2", item: "J1" },
          ]
        : []),
    ],
    runs: runs.map(([month, hours, more]) => ({
      ...{ run: `${month}`, serial, hours, pulled_because: "planned" },
      ...{ out_on: `2025-0${month}-10`, in_on: `2025-0${month}-20` },
      ...more,
    })),
    teardowns: torn,
    findings: looks.map(([number, , [item, condition, severity]]) => ({
      teardown: `look ${number}`,
      ...{ item, condition, severity },
    })),
  };
}

// ---------------------------------------------------------------------------------------------------------------------
// A busier shop than randomRecords draws. Items with a number move only once they have left the tool they were in.

const items: readonly Row<"tool_items">[] = [
  { tool_type: "axial damper", item: "main seal", kind: "seal", position: 1 },
  { tool_type: "axial damper", item: "J1", kind: "joint", position: 2 },
  { tool_type: "axial damper", item: "pin", kind: "pin", position: 3 },
  { tool_type: "reamer", item: "pin", kind: "pin", position: 1 },
];
const modes: readonly Row<"modes">[] = [
  { item: "seal", mode: "nibbling", announces: "hidden", threshold: 2, restored_by: "renewed", leads_to: "extrusion" },
  { item: "seal", mode: "extrusion", announces: "hidden", threshold: 3, restored_by: "renewed", leads_to: "leak" },
  { item: "main seal", mode: "leak", announces: "evident", threshold: 3, restored_by: "renewed" },
  { item: "joint", mode: "back-off", announces: "hidden", threshold: 3, restored_by: "made up", leads_to: "wash" },
  { item: "J1", mode: "wash", announces: "evident", threshold: 2, restored_by: "made up" },
  // The item's own threshold goes before its kind's.
  { item: "joint", mode: "galling", announces: "hidden", threshold: 4, restored_by: "renewed" },
  { item: "J1", mode: "galling", announces: "hidden", threshold: 3, restored_by: "renewed" },
  { item: "pin", mode: "wear", announces: "hidden", threshold: 3, restored_by: "renewed" },
  { item: "pin", mode: "shear", announces: "evident", threshold: 3, restored_by: "renewed" },
];
/** What is written about an item, names that no list has among it. */
const conditions = {
  "main seal": ["sound", "nibbling", "extrusion", "leak", "scuffed"],
  J1: ["sound", "back-off", "wash", "galling", "pitted"],
  pin: ["sound", "wear", "shear"],
  sleeve: ["sound", "crack"],
} as const;
const listed = ["main seal", "J1", "pin"] as const;

function busyShop(): fc.Arbitrary<{ readonly records: Records; readonly cutoff: string }> {
  const anItem = fc.constantFrom(...listed, ...listed, "sleeve" as const);
  const finding = anItem.chain((item) =>
    fc.record({
      item: fc.constant(item),
      condition: fc.constantFrom(...conditions[item]),
      severity: fc.constantFrom(0, 1, 2, 3, 4, 5, null),
      caused_by: fc.option(
        fc.constantFrom("extrusion", "back-off", "leak", "J1: back-off", "main seal: leak", "galling", "pin: shear"),
        { freq: 3 },
      ),
      disposition: fc.option(fc.constantFrom("destroyed", "used again"), { freq: 8 }),
    }),
  );
  const fitted = fc.option(
    fc.record({
      renewed: fc.boolean(),
      item_serial: fc.option(fc.constantFrom("P1", "P2", "P3")),
      age_at_fitting_h: fc.option(fc.integer({ min: 0, max: 300 }), { freq: 1 }),
    }),
    { freq: 7 },
  );
  const event = fc.record({
    tool: fc.nat(2),
    gap: fc.constantFrom(0, 0, 1, 3, 8),
    kind: fc.constantFrom("run", "run", "run", "look", "look", "redress"),
    days: fc.constantFrom(0, 1, 4, 9),
    hours: fc.option(fc.integer({ min: 0, max: 120 }), { freq: 7 }),
    hours_kind: fc.constantFrom(null, "circulating", "circulating", "circulating", "drilling" as const),
    pulled_because: fc.constantFrom<Row<"runs">["pulled_because"][]>(
      "planned",
      "planned",
      "tool failure",
      "lost in hole",
      "other tool",
      "not known",
    ),
    seen: fc.option(
      anItem.chain((item) =>
        fc.tuple(
          fc.constant(item),
          fc.option(fc.constantFrom(...conditions[item], "none"), { freq: 6 }),
          fc.option(fc.integer({ min: 0, max: 120 })),
        ),
      ),
      { freq: 2 },
    ),
    nothingSeen: fc.boolean(),
    well: fc.option(fc.constantFrom("W1", "W2")),
    stillOut: fc.constantFrom(false, false, false, false, true),
    twice: fc.constantFrom(false, false, false, false, true),
    findings: fc.uniqueArray(finding, { maxLength: 4, selector: (one) => `${one.item} ${one.condition}` }),
    scope: fc.subarray([...listed]),
    look: fc.constantFrom(null, "stripped", "stripped", "pressure test", "outside only" as const),
    fitted: fc.tuple(fitted, fitted, fitted),
    madeUp: fc.boolean(),
    test: fc.constantFrom(null, "pass", "not done", "fail" as const),
  });
  const entryHours = fc.tuple(fc.constantFrom(0, 250, null), fc.constantFrom(0, null), fc.constantFrom(0, 80));
  return fc
    .tuple(fc.array(event, { minLength: 1, maxLength: 26 }), entryHours, fc.constantFrom(20, 5000, 5000))
    .map(([events, hoursAtEntry, lastDay]) => {
      const runs: Row<"runs">[] = [];
      const redresses: Row<"redresses">[] = [];
      const joints: Row<"joints">[] = [];
      const fittedItems: Row<"fitted_items">[] = [];
      const teardowns: Row<"teardowns">[] = [];
      const findings: Row<"findings">[] = [];
      const whereIs = new Map<string, string>();
      let day = 20_000;
      events.forEach((one, index) => {
        day += one.gap;
        const serial = `T${one.tool + 1}`;
        const id = `${serial}-${index}`;
        if (one.kind === "run") {
          const [item, mode, hour] = one.seen ?? [null, one.nothingSeen ? "none" : null, null];
          const { hours, hours_kind, well, pulled_because } = one;
          const run: Row<"runs"> = {
            ...{ run: id, serial, hours, hours_kind, well, pulled_because },
            out_on: dateOf(day),
            in_on: one.stillOut ? null : dateOf(day + one.days),
            item_seen: item,
            mode_seen: mode,
            hour_seen: hour,
          };
          runs.push(run);
          if (one.twice) runs.push({ ...run, run: `${id} again` });
        } else if (one.kind === "look") {
          const { look, scope } = one;
          teardowns.push({ teardown: id, serial, done_on: dateOf(day), why: "planned", scope, kind: look });
          findings.push(...one.findings.map((row) => ({ ...row, teardown: id })));
        } else {
          redresses.push({ redress: id, serial, done_on: dateOf(day), reason: "planned", pressure_test: one.test });
          if (one.madeUp) joints.push({ redress: id, joint: "J1" });
          listed.forEach((item, which) => {
            const fit = one.fitted[which];
            const place = `${item} of ${serial}`;
            const number = item === "main seal" ? null : (fit?.item_serial ?? null);
            const thing = `${item} ${number}`;
            const elsewhere = whereIs.has(thing) && ![place, "free"].includes(whereIs.get(thing) ?? "free");
            const usable = number !== null && !elsewhere && !(fit?.renewed && whereIs.has(thing)) ? number : null;
            if (!fit || fit.renewed || usable !== null)
              for (const [other, at] of whereIs) if (at === place) whereIs.set(other, "free");
            if (usable !== null) whereIs.set(thing, place);
            if (fit) fittedItems.push({ ...fit, redress: id, item, item_serial: usable });
          });
        }
      });
      const tools = hoursAtEntry.map((hours, tool) => ({
        serial: `T${tool + 1}`,
        tool_type: tool < 2 ? "axial damper" : "reamer",
        hours_at_entry: hours,
      }));
      const records = {
        tool_items: items,
        modes,
        tools,
        runs,
        redresses,
        joints,
        fitted_items: fittedItems,
        teardowns,
        findings,
      };
      return { records, cutoff: dateOf(20_000 + lastDay) };
    });
}
