import { expect, test } from "vitest";
import { allProposed, answersTo, verdictsOn } from "../../../../web/state/auditAnswers.ts";
import type { Doubt } from "../../../../web/state/auditRequests.ts";

const torque = (change: Partial<Doubt> = {}): Doubt => ({
  id: "a",
  rule: "torque unit suspect",
  row: { table: "joints", key: '["B-1","J1"]' },
  column: "final_torque_Nm",
  value: 4981.3,
  others: [],
  facts: {},
  proposes: 3674,
  lives: 3,
  ...change,
});

test("habits can only be accepted, whole rows not corrected", () => {
  expect(verdictsOn({ rule: "hours heaped", table: "runs", column: "hours" })).toEqual(["accept"]);
  expect(verdictsOn({ rule: "duplicate run", table: "runs", column: null })).toEqual(["accept", "exclude"]);
  expect(verdictsOn({ rule: "torque unit suspect", table: "joints", column: "final_torque_Nm" })).toContain("correct");
});

test("each row gets its own proposal, on the value that it was decided on", () => {
  const doubts = [torque(), torque({ id: "b", value: 3235, proposes: 2386 })];
  const read = answersTo(doubts, { verdict: "correct", to: "proposed" }, " log ");
  expect("answers" in read && read.answers.map(({ was, becomes, why }) => [was, becomes, why])).toEqual([
    [4981.3, 3674, "log"],
    [3235, 2386, "log"],
  ]);
  expect(allProposed(doubts)).toBe(true);
  expect(allProposed([...doubts, torque({ proposes: null })])).toBe(false);
});

test("a row left out is left out as a whole, whatever it says", () => {
  const read = answersTo([torque()], { verdict: "exclude" }, "not ours");
  expect("answers" in read && read.answers[0]).toMatchObject({ column: null, was: null, verdict: "exclude" });
});

test("a value typed in another unit is turned into the column's", () => {
  const read = answersTo([torque()], { verdict: "correct", to: "typed", typed: "1000 ft-lbf" }, "log");
  // 1 ft-lbf is 1.3558179483 N·m (NIST SP 811, appendix B.8).
  expect("answers" in read && read.answers[0]?.becomes).toBeCloseTo(1355.8179, 3);
});

test("what is missing is said before anything is sent", () => {
  const missing = (...given: Parameters<typeof answersTo>) => {
    const read = answersTo(...given);
    return "missing" in read ? read.missing : null;
  };
  expect(missing([], null, "")).toMatch(/^Tick/);
  expect(missing([torque()], null, "log")).toMatch(/^Choose/);
  expect(missing([torque()], { verdict: "accept" }, " ")).toMatch(/^Say how/);
  expect(missing([torque()], { verdict: "correct", to: "typed", typed: "" }, "log")).toMatch(/^Write/);
  expect(missing([torque()], { verdict: "correct", to: "typed", typed: "tight" }, "log")).toContain("not a number");
});
