// Golden sentences: today's wording, so that a change is noticed and read.
import { expect, test } from "vitest";
import { auditRecords } from "../../../analysis/records/audit/auditRecords.ts";
import { type AuditRow, type AuditRule, auditRules } from "../../../analysis/records/audit/types.ts";
import { sayAuditRow } from "../../../analysis/wording/sayAudit.ts";
import { sayAuditRule } from "../../../analysis/wording/sayAuditRule.ts";
import { defaultFleet } from "../../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../../datasets/sample-fleet/generator/simulateFleet.ts";

const row = (rule: AuditRule, facts: AuditRow["facts"], more: Partial<AuditRow> = {}): AuditRow => ({
  id: "1",
  rule,
  row: { table: "runs", key: '["R-12"]' },
  column: null,
  value: null,
  others: [],
  facts,
  proposes: null,
  ...more,
});
const aRun = { run: "R-12", serial: "AD475-001" };

test("a doubt says what is odd and what to do, with the shop's numbers", () => {
  expect(sayAuditRow(row("duplicate run", { ...aRun, same_as: "R-11", out_on: "2024-03-05", hours: 62.5 }))).toBe(
    "Run R-12 of AD475-001 is the same as run R-11: out 5 Mar 2024, 62.5 h. Leave it out?",
  );
  expect(sayAuditRow(row("hours exceed dates", { ...aRun, hours: 170, days: 5, most: 120 }))).toBe(
    "Run R-12 of AD475-001 has 170 h in 5 days, which hold 120 h at most. Correct the hours or a date.",
  );
  expect(sayAuditRow(row("hours exceed dates", { ...aRun, hours: 17, days: -2, most: 0 }))).toBe(
    "Run R-12 of AD475-001 came in before it went out. Correct one of the dates.",
  );
  expect(
    sayAuditRow(
      row(
        "torque unit suspect",
        { joint: "J2", serial: "AD475-001", redress: "B-7", written: 2205.9, usual: 1626.98, meant: "N·m" },
        { column: "final_torque_Nm", proposes: 1627 },
      ),
    ),
  ).toBe(
    "J2 of AD475-001 in B-7: final torque 2,206 N·m (1,627 ft-lbf) against 1,627 N·m (1,200 ft-lbf). As N·m it would be 1,627 N·m (1,200 ft-lbf). Which was meant?",
  );
  expect(
    sayAuditRow(
      row(
        "temperature unit suspect",
        { ...aRun, written: 42.8, usual: 108, depth: 3984, meant: "degC" },
        { proposes: 109 },
      ),
    ),
  ).toBe(
    "Run R-12 of AD475-001: 43 °C (109 °F) at 3,980 m, where this shop usually sees 108 °C (226 °F). Read as °C it would be 109 °C (228 °F). Which was meant?",
  );
  expect(sayAuditRow(row("hours heaped", { by: "crew", name: "crew 3", heaped: 315, runs: 747, step: 10 }))).toBe(
    "Crew 3: 315 of 747 runs end on whole tens of hours (42 %, by chance about 5 to 10 %). Ask for hours as logged.",
  );
  expect(sayAuditRow(row("hours heaped", { by: "customer", name: "Elm", heaped: 31, runs: 74, step: 5 }))).toBe(
    "Runs for Elm: 31 of 74 runs end on whole fives of hours (42 %, by chance about 10 to 20 %). Ask for hours as logged.",
  );
});

test("every doubt of the sample fleet is said without a gap, and no two rows of a rule read alike", () => {
  const doubts = auditRecords(simulateFleet(defaultFleet).recorded);
  const said = doubts.map(sayAuditRow);
  expect(doubts.length).toBeGreaterThan(300);
  for (const sentence of said) {
    expect(sentence).toMatch(/^[A-Z].*[.?]$/);
    expect(sentence).not.toMatch(/undefined|NaN|null|not known/);
  }
  expect(new Set(said).size).toBe(said.length);
});

test("a fact that is missing reads not known, for every rule", () => {
  for (const rule of auditRules) {
    const sentence = sayAuditRow(row(rule, {}));
    expect(sentence).toMatch(/not known/);
    expect(sentence).not.toMatch(/undefined|NaN|null/);
  }
});

test("every rule has a title, what is odd, why it matters and what to do, in plain sentences without blame", () => {
  for (const rule of auditRules) {
    const { title, odd, whyItMatters, whatToDo } = sayAuditRule(rule);
    expect(title.length).toBeLessThan(40);
    for (const sentence of [odd, whyItMatters, whatToDo]) {
      expect(sentence).toMatch(/^[A-Z0-9].*\.$/);
      expect(sentence).not.toMatch(/!|error|invalid|fault of/i);
    }
  }
});
