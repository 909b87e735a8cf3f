// What a build sheet says of a life, and what the life met in its runs: small records worked by hand.
import { describe, expect, test } from "vitest";
import type { Life } from "../../../../analysis/lives/types.ts";
import { buildReader, cellName } from "../../../../analysis/practice/explain/buildFacts.ts";
import { conditionsUpTo } from "../../../../analysis/practice/explain/runConditions.ts";
import type { Records, Row } from "../../../../analysis/records/descriptor.ts";

const records: Records = {
  tool_items: [
    { tool_type: "Quill", item: "J1", kind: "joint", design_torque_Nm: 2000 },
    { tool_type: "Quill", item: "main seal", kind: "seal" },
  ],
  compounds: [{ compound: "zinc paste", friction_factor: 1.25 }, { compound: "grease" }],
  redresses: [
    { redress: "B1", serial: "Q1", done_on: "2024-03-01", reason: "new", technician: "tech 2" },
    { redress: "B2", serial: "Q1", done_on: "2024-05-01", reason: "planned" },
  ],
  joints: [
    {
      redress: "B1",
      joint: "J1",
      new_thread: true,
      final_torque_Nm: 1900,
      make_break_cycles: 2,
      compound: "zinc paste",
      torque_tool: "TM-1",
      calibrated_on: "2024-02-20",
    },
    {
      redress: "B2",
      joint: "J1",
      new_thread: false,
      compound: "grease",
      make_break_cycles: 1,
      calibrated_on: "2024-06-01",
    },
  ],
  fitted_items: [
    { redress: "B1", item: "main seal", renewed: true, hardness_shoreA: 80, cured_on: "2024-01-01", lot: "L7" },
    { redress: "B2", item: "main seal", renewed: false, hardness_shoreA: 90 },
  ],
  findings: [{ teardown: "T1", item: "J1", condition: "sound", breakout_torque_Nm: 1234 }],
};

const life = (item: string, since: string, more: Partial<Life> = {}): Life => ({
  id: `${item} ${since}`,
  toolType: "Quill",
  sizeIn: null,
  serial: "Q1",
  item,
  itemSerial: null,
  mode: "back-off",
  since,
  sinceOn: since === "B1" ? "2024-03-01" : "2024-05-01",
  kind: "right",
  lower: 100,
  upper: null,
  entry: 0,
  rangeBecause: null,
  closedBy: "look",
  endedOn: "2024-06-01",
  informative: false,
  looks: [],
  runs: [],
  rows: [],
  ...more,
});

describe("what a build sheet says", () => {
  const read = buildReader(records);

  test("torque over design 1900 / 2000, and over the friction factor 1.25 again", () => {
    const { practices, technician } = read(life("J1", "B1"));
    expect(practices.torque).toEqual({ value: 0.95 });
    expect(practices["corrected torque"]).toEqual({ value: expect.closeTo(0.76, 12) });
    expect(technician).toBe("tech 2");
  });

  test("cycles count for new or for used threads, never for both; calibration ten days (29 February between) before", () => {
    const fresh = read(life("J1", "B1")).practices;
    expect(fresh["cycles on new threads"]).toEqual({ value: 2 });
    expect("cycles on used threads" in fresh).toBe(false);
    expect(fresh["days since calibration"]).toEqual({ value: 10 });
    expect(read(life("J1", "B2")).practices["cycles on used threads"]).toEqual({ value: 1 });
  });

  test("a blank torque is missing; a compound without a factor corrects nothing; a calibration after the build is in doubt", () => {
    const { practices } = read(life("J1", "B2"));
    expect(practices.torque).toEqual({ missing: "not written" });
    expect(practices["corrected torque"]).toEqual({ missing: "not written" });
    expect(practices["days since calibration"]).toEqual({ missing: "in doubt" });
  });

  test("words in the torque cell and a unit in doubt are groups of their own", () => {
    const torqueOf = (redress: string) => cellName("joints", JSON.stringify([redress, "J1"]), "final_torque_Nm");
    const noted = buildReader(records, {
      texts: new Map([[torqueOf("B2"), "good tight"]]),
      doubted: new Set([torqueOf("B1")]),
    });
    expect(noted(life("J1", "B2")).practices.torque).toEqual({ missing: "written as text", text: "good tight" });
    expect(noted(life("J1", "B1")).practices.torque).toEqual({ missing: "in doubt" });
    expect(noted(life("J1", "B1")).practices["corrected torque"]).toEqual({ missing: "in doubt" });
  });

  test("rubber speaks where it was renewed: sixty days after cure; a seal carried over says nothing at this redress", () => {
    const { practices, lot } = read(life("main seal", "B1"));
    expect(practices["cure age"]).toEqual({ value: 60 });
    expect(practices.hardness).toEqual({ value: 80 });
    expect(lot).toBe("L7");
    expect(read(life("main seal", "B2")).practices).toEqual({});
  });

  test("nothing of the teardown is read: other findings, breakout torques among them, change nothing", () => {
    const { findings: _, ...without } = records;
    for (const since of ["B1", "B2"])
      for (const item of ["J1", "main seal"])
        expect(buildReader(without)(life(item, since))).toEqual(read(life(item, since)));
  });
});

describe("what a life met up to an age", () => {
  const runs: readonly Row<"runs">[] = [
    {
      run: "R1",
      serial: "Q1",
      out_on: "2024-03-05",
      pulled_because: "planned",
      max_temperature_C: 100,
      mud: "water base",
      vibration_class: 1,
    },
    {
      run: "R2",
      serial: "Q1",
      out_on: "2024-04-05",
      pulled_because: "planned",
      max_temperature_C: 130,
      mud: "oil base",
    },
  ];
  const runOf = (key: string) => runs.find(({ run }) => JSON.stringify([run]) === key);
  const mark = (run: string, from: number, to: number) => ({
    row: { table: "runs" as const, key: JSON.stringify([run]) },
    outOn: "2024-03-05",
    inOn: "2024-03-20",
    from,
    to,
  });
  const ran = life("J1", "B1", { runs: [mark("R1", 0, 60), mark("R2", 60, 100)] });
  const upTo = (age: number) => conditionsUpTo(ran, age, runOf, (celsius) => (celsius === 100 ? 1 : 3));

  test("by 100 h: 60 at 100 and 40 at 130 degC are 112 on average and 180 thermal hours", () => {
    expect(upTo(100)).toEqual({
      hours: 100,
      temperatureC: 112,
      thermalHours: 180,
      vibration: 1,
      differentialPressureMPa: null,
      mud: { "water base": 0.6, "oil base": 0.4 },
    });
  });

  test("by 80 h the second run counts with 20 of its hours, by 60 h not at all: nothing of what comes after an age", () => {
    expect(upTo(80)).toMatchObject({ hours: 80, temperatureC: 107.5, thermalHours: 120 });
    expect(upTo(60)).toMatchObject({ hours: 60, temperatureC: 100, mud: { "water base": 1 } });
  });
});
