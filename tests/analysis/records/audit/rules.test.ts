// Rules that no planted fault exercises, and the borders of those that are: small shops worked by hand. Limits are those
// in each rule's docstring (common practice, no source).
import { describe, expect, test } from "vitest";
import { auditRecords } from "../../../../analysis/records/audit/auditRecords.ts";
import type { AuditRule } from "../../../../analysis/records/audit/types.ts";
import type { Records, Row } from "../../../../analysis/records/descriptor.ts";

const base: Records = {
  tool_items: [
    { tool_type: "axial damper", item: "main seal", kind: "seal" },
    { tool_type: "axial damper", item: "pin", kind: "pin" },
    { tool_type: "axial damper", item: "J1", kind: "joint", design_torque_Nm: 2000 },
  ],
  modes: [
    { item: "seal", mode: "leak", announces: "evident", threshold: 3, restored_by: "renewed" },
    { item: "pin", mode: "wear", announces: "hidden", threshold: 3, restored_by: "renewed" },
    { item: "joint", mode: "back-off", announces: "hidden", threshold: 3, restored_by: "made up" },
  ],
  tools: [
    { serial: "A", tool_type: "axial damper", size_in: 4.75, hours_at_entry: 0 },
    { serial: "B", tool_type: "axial damper", size_in: 4.75, hours_at_entry: 0 },
  ],
};
const build = (redress: string, on: string, more: Partial<Row<"redresses">> = {}): Row<"redresses"> => ({
  redress,
  serial: "A",
  done_on: on,
  reason: "planned",
  ...more,
});
const run = (name: string, out: string, into: string | null, more: Partial<Row<"runs">> = {}): Row<"runs"> => ({
  run: name,
  serial: "A",
  out_on: out,
  in_on: into,
  hours: 40,
  pulled_because: "planned",
  ...more,
});
const look = (teardown: string, on: string, more: Partial<Row<"teardowns">> = {}): Row<"teardowns"> => ({
  teardown,
  serial: "A",
  done_on: on,
  why: "planned",
  kind: "stripped",
  ...more,
});
const doubtsOf = (records: Records) =>
  auditRecords({ ...base, ...records }).map(
    ({ rule, row, column }) => `${rule}: ${row.table} ${row.key}${column === null ? "" : ` ${column}`}`,
  );
const first = (records: Records, rule: AuditRule) =>
  auditRecords({ ...base, ...records }).find((row) => row.rule === rule);
const built = [build("B1", "2024-01-01", { reason: "new" })];

describe("hours against dates", () => {
  test("two dates hold 48 h: 48 is no doubt, 48.5 is; in before out is doubted by its date", () => {
    const shop = (hours: number, into = "2024-01-03") =>
      doubtsOf({ redresses: built, runs: [run("R1", "2024-01-02", into, { hours })] });
    expect(shop(48)).toEqual([]);
    expect(shop(48.5)).toEqual(['hours exceed dates: runs ["R1"] hours']);
    expect(shop(5, "2024-01-01")).toEqual(['hours exceed dates: runs ["R1"] in_on']);
  });

  test("0 h is doubted from three dates on", () => {
    const shop = (into: string) => doubtsOf({ redresses: built, runs: [run("R1", "2024-01-02", into, { hours: 0 })] });
    expect(shop("2024-01-03")).toEqual([]);
    expect(shop("2024-01-04")).toEqual(['zero hours of a long run: runs ["R1"] hours']);
  });
});

describe("runs whose dates meet", () => {
  const pair = (a: Partial<Row<"runs">>, b: Partial<Row<"runs">>, out = "2024-01-08") =>
    doubtsOf({
      redresses: built,
      runs: [run("R1", "2024-01-02", "2024-01-10", a), run("R2", out, "2024-01-14", { hours: 41, ...b })],
    });
  test("overlapping in one well with hours that cannot be one run's is an overlap", () => {
    expect(pair({ well: "W-1", hours: 190 }, { well: "W-1", hours: 150 })).toEqual([
      'runs overlap: runs ["R2"] out_on',
    ]);
  });
  test("overlapping in two wells is a serial in two places", () => {
    expect(pair({ well: "W-1" }, { well: "W-2" })).toEqual(['serial in two places: runs ["R2"] serial']);
  });
  test("no well written: an overlap; sharing one day only: nothing", () => {
    expect(pair({}, {})).toEqual(['runs overlap: runs ["R2"] out_on']);
    expect(pair({}, {}, "2024-01-10")).toEqual([]);
  });
  test("same well and hours with dates that overlap is a duplicate, proposed for exclusion", () => {
    const records = {
      redresses: built,
      runs: [
        run("R1", "2024-01-02", "2024-01-10", { well: "W-1" }),
        run("R2", "2024-01-03", "2024-01-11", { well: "W-1" }),
      ],
    };
    expect(doubtsOf(records)).toEqual(['duplicate run: runs ["R2"]']);
    expect(first(records, "duplicate run")?.proposes).toBe("exclude");
  });
  test("of three alike the second and the third are doubted", () => {
    const runs = ["R1", "R2", "R10"].map((name) => run(name, "2024-01-02", "2024-01-10"));
    expect(doubtsOf({ redresses: built, runs })).toEqual(['duplicate run: runs ["R10"]', 'duplicate run: runs ["R2"]']);
  });
  test("one after the other in one well: split, unless deeper, after a failure, or rebuilt in between", () => {
    const well = { well: "W-1", depth_m: 3000 };
    expect(pair(well, well, "2024-01-10")).toEqual(['split run: runs ["R2"]']);
    expect(pair(well, { ...well, depth_m: 3400 }, "2024-01-10")).toEqual([]);
    expect(pair({ ...well, pulled_because: "tool failure" }, well, "2024-01-10")).toEqual([]);
    const rebuilt = {
      redresses: [...built, build("B2", "2024-01-10")],
      runs: [
        run("R1", "2024-01-02", "2024-01-10", well),
        run("R2", "2024-01-10", "2024-01-14", { ...well, hours: 41 }),
      ],
    };
    expect(doubtsOf(rebuilt)).toEqual([]);
  });
});

describe("one item in two tools", () => {
  const shop = (laterOn: string, more: Records = {}) =>
    doubtsOf({
      redresses: [
        build("B1", "2024-01-01", { reason: "new" }),
        build("B2", "2024-02-01", { serial: "B", reason: "new" }),
        build("B3", laterOn),
      ],
      fitted_items: [
        { redress: "B1", item: "pin", renewed: true, item_serial: "P1" },
        { redress: "B2", item: "pin", renewed: false, item_serial: "P1", age_at_fitting_h: 0 },
        { redress: "B3", item: "pin", renewed: true, item_serial: "P2" },
      ],
      ...more,
    });
  test("fitted to another tool while this one still holds it", () => {
    expect(shop("2024-03-01")).toEqual(['serial in two places: fitted_items ["B2","pin"] item_serial']);
  });
  test("taken out the same day or before, or the holder taken apart first, is no doubt", () => {
    expect(shop("2024-02-01")).toEqual([]);
    expect(shop("2024-01-20")).toEqual([]);
    const apart = {
      runs: [run("R1", "2024-01-02", "2024-01-10")],
      teardowns: [look("T1", "2024-01-20", { scope: [] })],
    };
    expect(shop("2024-03-01", apart)).toEqual([
      'age falls without a restoration: fitted_items ["B2","pin"] age_at_fitting_h',
    ]);
  });
});

describe("age that falls", () => {
  const shop = (age: number, measured: number, renewed = false) =>
    doubtsOf({
      redresses: [...built, build("B2", "2024-01-20")],
      fitted_items: [
        { redress: "B1", item: "pin", renewed: true },
        { redress: "B2", item: "pin", renewed, age_at_fitting_h: renewed ? null : age },
      ],
      runs: [
        run("R1", "2024-01-02", "2024-01-10", { hours: 100 }),
        run("R2", "2024-02-02", "2024-02-10", { hours: 100 }),
      ],
      teardowns: [look("T1", "2024-01-19"), look("T2", "2024-02-19")],
      findings: [
        { teardown: "T1", item: "pin", condition: "sound", measured: 1, measured_kind: "wear", measured_unit: "mm" },
        { teardown: "T2", item: "pin", condition: "sound", measured, measured_kind: "wear", measured_unit: "mm" },
        { teardown: "T2", item: "J1", condition: "sound", measured: 0.95, measured_kind: "wear", measured_unit: "mm" },
      ],
    });
  test("hours at fitting below the runs' hours by more than 5 %: 95 of 100 h is let pass, 94 is not", () => {
    expect(shop(95, 1.2)).toEqual([]);
    expect(shop(94, 1.2)).toEqual(['age falls without a restoration: fitted_items ["B2","pin"] age_at_fitting_h']);
  });
  test("wear a quarter less than at the look before, unless renewed in between", () => {
    expect(shop(100, 0.7)).toEqual(['age falls without a restoration: findings ["T2","pin","sound"] measured']);
    expect(shop(100, 0.8)).toEqual([]);
    expect(shop(0, 0.7, true)).toEqual([]);
  });
});

describe("tools that are out, or in", () => {
  const redresses = [...built, build("B9", "2024-06-01", { serial: "B", reason: "new" })];
  const out = (date: string, more: Records = {}) => doubtsOf({ redresses, runs: [run("R1", date, null)], ...more });
  test("out for more than 30 days at the end of the records", () => {
    expect(out("2024-05-02")).toEqual([]);
    expect(out("2024-05-01")).toEqual(['out but silent: runs ["R1"] in_on']);
  });
  test("lost is not silent; seen again without a date in is", () => {
    expect(out("2024-03-01", { runs: [run("R1", "2024-03-01", null, { pulled_because: "lost in hole" })] })).toEqual(
      [],
    );
    const again = [run("R1", "2024-05-20", null), run("R2", "2024-05-28", "2024-05-30")];
    expect(out("", { runs: again })).toEqual(['out but silent: runs ["R1"] in_on']);
  });
  test("status out with no run open, nothing heard for more than 30 days", () => {
    const tools: Records["tools"] = [
      { serial: "A", tool_type: "axial damper", status: "out", status_on: "2024-04-01" },
    ];
    expect(out("", { tools, runs: [run("R1", "2024-03-01", "2024-03-05")] })).toEqual([
      'out but silent: tools ["A"] status',
    ]);
  });
  test("came in more than 60 days before the end, and nothing since", () => {
    expect(out("", { runs: [run("R1", "2024-03-20", "2024-04-02")] })).toEqual([]);
    expect(out("", { runs: [run("R1", "2024-03-20", "2024-04-01")] })).toEqual([
      'returned, not torn down: runs ["R1"]',
    ]);
  });
});

describe("reasons against findings", () => {
  const leak: Row<"findings"> = { teardown: "T1", item: "main seal", condition: "leak", severity: 3 };
  const shop = (why: Row<"teardowns">["why"], reason: Row<"redresses">["reason"], more: Records = {}) =>
    doubtsOf({
      redresses: [...built, build("B2", "2024-01-20", { reason })],
      runs: [run("R1", "2024-01-02", "2024-01-10")],
      teardowns: [look("T1", "2024-01-15", { why })],
      findings: [leak],
      ...more,
    });
  test("an evident failure no run reported: planned teardown, planned redress, or told late", () => {
    expect(shop("planned", "planned")).toEqual(['planned redress of a failed tool: teardowns ["T1"] why']);
    expect(shop("other", "planned")).toEqual(['planned redress of a failed tool: redresses ["B2"] reason']);
    expect(shop("other", "failure")).toEqual(['failure reported late: findings ["T1","main seal","leak"] condition']);
    expect(shop("tool failure", "failure")).toEqual([]);
    expect(shop("tool failure", "planned")).toEqual(['planned redress of a failed tool: redresses ["B2"] reason']);
  });
  test("below the threshold, or hidden: nothing to doubt", () => {
    expect(shop("planned", "planned", { findings: [{ ...leak, severity: 2 }] })).toEqual([]);
    const worn: Row<"findings"> = { teardown: "T1", item: "pin", condition: "wear", severity: 4 };
    expect(shop("planned", "planned", { findings: [worn] })).toEqual([]);
  });
  test("a run pulled for a tool failure before a planned teardown", () => {
    const runs = [
      run("R1", "2024-01-02", "2024-01-10", {
        pulled_because: "tool failure",
        item_seen: "main seal",
        mode_seen: "leak",
      }),
    ];
    expect(shop("planned", "failure", { runs, findings: [] })).toEqual([
      'planned redress of a failed tool: teardowns ["T1"] why',
    ]);
    expect(shop("tool failure", "failure", { runs })).toEqual([]);
  });
  test("found failed and refitted; made up again is a restoration where the mode says so", () => {
    const worn: Row<"findings"> = { teardown: "T1", item: "pin", condition: "wear", severity: 4 };
    const backOff: Row<"findings"> = { teardown: "T1", item: "J1", condition: "back-off", severity: 3 };
    const refitted = {
      findings: [worn, backOff],
      fitted_items: [
        { redress: "B2", item: "pin", renewed: false },
        { redress: "B2", item: "J1", renewed: false },
      ],
    };
    const doubts = [
      'failed item refitted: findings ["T1","J1","back-off"] severity',
      'failed item refitted: findings ["T1","pin","wear"] severity',
    ];
    expect(shop("planned", "planned", refitted)).toEqual(doubts);
    const made = { ...refitted, joints: [{ redress: "B2", joint: "J1" }] };
    expect(shop("planned", "planned", made)).toEqual(doubts.slice(1));
  });
});

describe("units", () => {
  const joints = (finals: readonly (number | null)[], target: number | null = 2000): Records => ({
    redresses: finals.map((_, index) => build(`B${index}`, `2024-01-${String(index + 1).padStart(2, "0")}`)),
    joints: finals.map((final, index) => ({
      redress: `B${index}`,
      joint: "J1",
      target_torque_Nm: target,
      final_torque_Nm: final,
    })),
  });
  const usual = [1960, 2040, 2000, 1980, 2020];
  test("1.356 times the target is proposed back; 1.1 times is a torque", () => {
    const shop = joints([...usual, 2711.6, 2200]);
    expect(doubtsOf(shop)).toEqual(['torque unit suspect: joints ["B5","J1"] final_torque_Nm']);
    // 2711.6 / 1.3558179483 = 1999.97; factor exact by NIST SP 811 (2008), B.8.
    expect(first(shop, "torque unit suspect")?.proposes).toBeCloseTo(1999.97, 2);
  });
  test("0.738 times is proposed the other way; with no target the design torque is the measure", () => {
    const shop = joints([...usual, 1475], null);
    expect(first(shop, "torque unit suspect")?.proposes).toBeCloseTo(1999.83, 2);
  });
  test("a target in the other unit is told as such, and its final torque is held against the usual target", () => {
    const shop = joints([...usual, ...usual]);
    const wrong = { redress: "B0", joint: "J1", target_torque_Nm: 2711.6, final_torque_Nm: 2000 };
    const records = { ...shop, joints: [wrong, ...(shop.joints ?? []).slice(1)] };
    expect(doubtsOf(records)).toEqual(['torque unit suspect: joints ["B0","J1"] target_torque_Nm']);
  });
  test("no number where most have one; where most have none it is the shop's way", () => {
    expect(doubtsOf(joints([...usual, null]))).toEqual(['torque not written: joints ["B5","J1"] final_torque_Nm']);
    expect(doubtsOf(joints([2000, null, null]))).toEqual([]);
  });

  const wells = (last: Partial<Row<"runs">>): Records => ({
    redresses: built,
    runs: Array.from({ length: 25 }, (_, index) =>
      run(
        `R${index}`,
        `2024-${String(2 + Math.floor(index / 5)).padStart(2, "0")}-${String(1 + 5 * (index % 5)).padStart(2, "0")}`,
        `2024-${String(2 + Math.floor(index / 5)).padStart(2, "0")}-${String(4 + 5 * (index % 5)).padStart(2, "0")}`,
        {
          depth_m: 2000 + 100 * index,
          max_temperature_C: 70 + 2.5 * index + (index % 3),
          ...(index === 24 ? last : {}),
        },
      ),
    ),
  });
  test("too cool for its depth is told by depth, not by the shop's middle temperature", () => {
    // At 4,400 m about 131 degC is usual. 131 written in a degF column is 55 degC: (131 - 32) / 1.8.
    const shop = wells({ max_temperature_C: 55 });
    expect(doubtsOf(shop)).toEqual(['temperature unit suspect: runs ["R24"] max_temperature_C']);
    expect(first(shop, "temperature unit suspect")?.proposes).toBe(131);
    // A shallow well may be that cool.
    expect(doubtsOf(wells({ max_temperature_C: 55, depth_m: 1500 }))).toEqual([]);
  });
  test("too hot for its depth where degF stood in a degC column", () => {
    // 131 degC is 267.8 degF, written as degC.
    expect(first(wells({ max_temperature_C: 267.8 }), "temperature unit suspect")?.proposes).toBe(131);
  });
});

describe("writing habits", () => {
  const many = (count: number, of: (index: number) => Partial<Row<"runs">>): Records => ({
    redresses: built,
    runs: Array.from({ length: count }, (_, index) => {
      const day = new Date(Date.UTC(2024, 0, 2 + 8 * index)).toISOString().slice(0, 10);
      const back = new Date(Date.UTC(2024, 0, 8 + 8 * index)).toISOString().slice(0, 10);
      return run(`R${String(index).padStart(3, "0")}`, day, back, of(index));
    }),
  });
  test("hours on tens are heaped, hours that happen to be even are not", () => {
    const heaped = many(40, (index) => ({ crew: "c 1", hours: index % 2 === 0 ? 30 + (index % 8) * 10 : 31 + index }));
    expect(doubtsOf(heaped)).toEqual(['hours heaped: runs ["R000"] hours']);
    expect(first(heaped, "hours heaped")?.facts).toMatchObject({ by: "crew", name: "c 1", step: 10 });
    expect(doubtsOf(many(40, (index) => ({ crew: "c 1", hours: 20 + ((index * 7) % 90) })))).toEqual([]);
  });
  test("rounding to fives is told as fives", () => {
    const fives = many(40, (index) => ({ hours: 20 + 5 * (index % 16) }));
    expect(first(fives, "hours heaped")?.facts).toMatchObject({ by: "shop", step: 5, heaped: 40 });
  });
  test("other in every third run is habit, in every tenth not, and never in fewer than twenty runs", () => {
    const every = (nth: number, count: number) =>
      doubtsOf(
        many(count, (index) => ({
          crew: "c 1",
          hours: 21 + index,
          pulled_because: index % nth === 0 ? "other" : "planned",
        })),
      );
    expect(every(3, 60)).toEqual(['other too often: runs ["R000"] pulled_because']);
    expect(every(10, 60)).toEqual([]);
    expect(every(3, 18)).toEqual([]);
  });
});

test("a shop with nothing in it raises nothing", () => {
  expect(auditRecords({})).toEqual([]);
  expect(doubtsOf({})).toEqual([]);
});
