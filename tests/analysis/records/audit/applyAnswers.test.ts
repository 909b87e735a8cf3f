import { describe, expect, test } from "vitest";
import { applyAnswers } from "../../../../analysis/records/audit/applyAnswers.ts";
import type { Answer } from "../../../../analysis/records/audit/types.ts";
import type { Records, Row } from "../../../../analysis/records/descriptor.ts";

const run = (name: string, more: Partial<Row<"runs">> = {}): Row<"runs"> => ({
  run: name,
  serial: "T1",
  out_on: "2024-03-01",
  in_on: "2024-03-05",
  hours: 40,
  pulled_because: "planned",
  ...more,
});
const records: Records = {
  tools: [{ serial: "T1", tool_type: "axial damper" }],
  runs: [run("R1"), run("R2", { out_on: "2024-04-01", in_on: "2024-04-05", hours: 0 })],
  redresses: [{ redress: "B1", serial: "T1", done_on: "2024-02-01", reason: "new" }],
  joints: [{ redress: "B1", joint: "J1", final_torque_Nm: 2000 }],
  fitted_items: [{ redress: "B1", item: "main seal", renewed: true }],
};

let clock = 0;
const answer = (key: readonly string[], more: Partial<Answer>): Answer => ({
  table: "runs",
  key: JSON.stringify(key),
  column: "hours",
  was: 0,
  becomes: null,
  verdict: "accept",
  rule: null,
  who: "KL",
  when: `2024-06-01T00:00:${String(clock++ % 60).padStart(2, "0")}Z`,
  why: "report found",
  ...more,
});
const hoursOf = ({ runs = [] }: Records, name: string) => runs.find((row) => row.run === name)?.hours;
const states = (answers: readonly Answer[], from = records) => {
  const { applied, stale, superseded, refused } = applyAnswers(from, answers);
  return answers.map((one) =>
    applied.includes(one)
      ? "applied"
      : stale.includes(one)
        ? "stale"
        : superseded.includes(one)
          ? "superseded"
          : refused.find((row) => row.answer === one)?.because,
  );
};

describe("one cell", () => {
  test("correct replaces one cell and nothing else, and the records given stay as they were", () => {
    const before = structuredClone(records);
    const { records: audited } = applyAnswers(records, [answer(["R2"], { verdict: "correct", becomes: 62 })]);
    expect(hoursOf(audited, "R2")).toBe(62);
    expect(audited.runs?.[0]).toBe(records.runs?.[0]);
    expect(audited.redresses).toBe(records.redresses);
    expect(records).toEqual(before);
  });

  test("accept changes nothing", () => {
    const accept = answer(["R2"], {});
    expect(applyAnswers(records, [accept]).records).toEqual(records);
    expect(states([accept])).toEqual(["applied"]);
  });

  test("an answer is stale once the sheet says something else, and where the row is gone", () => {
    const given = [
      answer(["R2"], { verdict: "correct", was: 12, becomes: 62 }),
      answer(["R9"], { verdict: "exclude" }),
    ];
    expect(states(given)).toEqual(["stale", "stale"]);
    expect(applyAnswers(records, given).records).toEqual(records);
  });

  test("a field left out and null are the same value", () => {
    const given = answer(["R1"], { column: "well", was: null, verdict: "correct", becomes: "W-7" });
    expect(states([given])).toEqual(["applied"]);
    expect(applyAnswers(records, [given]).records.runs?.[0]?.well).toBe("W-7");
  });

  test("of two answers of one cell the later stands, in whatever order they come", () => {
    const early = answer(["R2"], { verdict: "correct", becomes: 50, when: "2024-06-01" });
    const late = answer(["R2"], { verdict: "correct", becomes: 62, when: "2024-06-02" });
    for (const given of [
      [early, late],
      [late, early],
    ]) {
      expect(hoursOf(applyAnswers(records, given).records, "R2")).toBe(62);
      expect(states(given)).toEqual(given.map((one) => (one === late ? "applied" : "superseded")));
    }
  });

  test("accepting the sheet's value later takes a correction back; accepting the corrected value keeps it", () => {
    const corrected = answer(["R2"], { verdict: "correct", becomes: 62, when: "2024-06-01" });
    const back = answer(["R2"], { was: 0, when: "2024-06-02" });
    expect(hoursOf(applyAnswers(records, [corrected, back]).records, "R2")).toBe(0);
    const kept = answer(["R2"], { was: 62, when: "2024-06-02" });
    expect(hoursOf(applyAnswers(records, [corrected, kept]).records, "R2")).toBe(62);
    expect(states([corrected, kept])).toEqual(["applied", "applied"]);
  });

  test("reopening takes back whatever was decided before: a correction, an exclusion, an acceptance", () => {
    const corrected = answer(["R2"], { verdict: "correct", becomes: 62 });
    const accepted = answer(["R2"], { was: 62, rule: "hours exceed dates" });
    const reopened = answer(["R2"], { verdict: "reopen", was: 62 });
    expect(states([corrected, accepted, reopened])).toEqual(["superseded", "superseded", "applied"]);
    expect(hoursOf(applyAnswers(records, [corrected, accepted, reopened]).records, "R2")).toBe(0);
    const gone = answer(["R2"], { verdict: "exclude", column: null, was: null });
    const back = answer(["R2"], { verdict: "reopen", column: null, was: null });
    expect(states([gone, back])).toEqual(["superseded", "applied"]);
    expect(applyAnswers(records, [gone, back]).records.runs).toHaveLength(2);
  });

  test("what two rules doubt about one cell is accepted one by one", () => {
    const [first, second, again] = [
      answer(["R2"], { rule: "zero hours of a long run" }),
      answer(["R2"], { rule: "hours exceed dates" }),
      answer(["R2"], { rule: "hours exceed dates" }),
    ];
    expect(states([first, second])).toEqual(["applied", "applied"]);
    expect(states([first, second, again])).toEqual(["applied", "applied", "applied"]);
  });

  test("a corrected value can be corrected again", () => {
    const given = [
      answer(["R2"], { verdict: "correct", becomes: 50, when: "2024-06-01" }),
      answer(["R2"], { verdict: "correct", was: 50, becomes: 62, when: "2024-06-02" }),
    ];
    expect(hoursOf(applyAnswers(records, given).records, "R2")).toBe(62);
    expect(states(given)).toEqual(["superseded", "applied"]);
  });
});

describe("a whole row", () => {
  test("exclude removes the row and tells what hangs on it", () => {
    const given = answer(["B1"], { table: "redresses", column: null, was: null, verdict: "exclude" });
    const { records: audited, hanging } = applyAnswers(records, [given]);
    expect(audited.redresses).toEqual([]);
    expect(audited.joints).toBe(records.joints);
    expect(hanging).toEqual([
      {
        answer: given,
        rows: [
          { table: "joints", key: '["B1","J1"]' },
          { table: "fitted_items", key: '["B1","main seal"]' },
        ],
      },
    ]);
  });

  test("exclude that names the row it was given on is stale when the sheet's row has changed", () => {
    const was = { ...run("R1"), well: null };
    const given = answer(["R1"], { column: null, was, verdict: "exclude" });
    expect(states([given])).toEqual(["applied"]);
    expect(states([given], { runs: [run("R1", { hours: 41 })] })).toEqual(["stale"]);
  });

  test("accepting the row later brings it back", () => {
    const given = [
      answer(["R1"], { column: null, was: null, verdict: "exclude", when: "2024-06-01" }),
      answer(["R1"], { column: null, was: null, verdict: "accept", when: "2024-06-02" }),
    ];
    expect(applyAnswers(records, given).records.runs).toHaveLength(2);
    expect(states(given)).toEqual(["superseded", "applied"]);
  });
});

describe("answers that fit no sheet are refused with the reason", () => {
  test.each([
    ["no such column", { column: "colour", verdict: "correct", becomes: 1 }],
    ["no such column", { column: "__proto__", verdict: "correct", becomes: {} }],
    ["no column named", { column: null, verdict: "correct", becomes: 1 }],
    ["key of the row", { column: "run", verdict: "correct", becomes: "R3" }],
    ["does not fit the column", { verdict: "correct", becomes: "many" }],
    ["does not fit the column", { verdict: "correct", becomes: -1 }],
    ["does not fit the column", { verdict: "correct", becomes: Number.NaN }],
    ["does not fit the column", { column: "in_on", verdict: "correct", becomes: "5 March" }],
    ["does not fit the column", { column: "in_on", verdict: "correct", becomes: "2024-02-31" }],
    ["does not fit the column", { column: "pulled_because", verdict: "correct", becomes: "leak" }],
    ["does not fit the column", { column: "serial", verdict: "correct", becomes: null }],
  ] as const)("%s: %j", (because, more) => {
    const given = answer(["R2"], more);
    expect(states([given])).toEqual([because]);
    expect(applyAnswers(records, [given]).records).toEqual(records);
  });
});
