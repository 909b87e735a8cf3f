// Golden sentences: today's wording, so that a change is noticed and read. The laws below hold for every code.
import { expect, test } from "vitest";
import type { AnalysisErrorCode } from "../../../analysis/errors.ts";
import type { Problem, ProblemCode } from "../../../analysis/records/mapping.ts";
import type { Notice } from "../../../analysis/study/types.ts";
import {
  type CautionKind,
  noticeFacts,
  sayCautions,
  sayError,
  sayNotice,
  sayProblem,
} from "../../../analysis/wording/index.ts";

const origin = { file: "run_log.csv", sheet: null, line: 14 };
const problem = (code: ProblemCode, given: Partial<Problem> = {}): Problem => ({
  code,
  severity: "error",
  origin,
  column: null,
  value: null,
  facts: {},
  ...given,
});

const cases: Readonly<Record<ProblemCode, readonly [Partial<Problem>, string]>> = {
  "missing-required": [
    { column: "Serial no.", value: "", facts: { table: "runs", field: "serial" } },
    "run_log.csv, line 14, column Serial no.: Serial is not written down, and without it the line cannot be placed. The row is set aside; repair the line and drop the file again.",
  ],
  "not-a-number": [
    { column: "Hours", value: "62,5x", facts: { table: "runs", field: "hours", unit: "h" } },
    "run_log.csv, line 14, column Hours: '62,5x' is not a number. The row is set aside; repair the cell and drop the file again.",
  ],
  "not-a-date": [
    { column: "Date", value: "spring", severity: "notice" },
    "run_log.csv, line 14, column Date: 'spring' is not a date. The rest of the row is kept and this cell counts as not written down.",
  ],
  "ambiguous-date": [
    { column: "Date", value: "3/4/2025", severity: "notice" },
    "run_log.csv, line 14, column Date: '3/4/2025' can be read with day first or month first. Confirm the order of the column.",
  ],
  "impossible-date": [
    { column: "Date", value: "31/02/2025", facts: { order: "dmy" } },
    "run_log.csv, line 14, column Date: '31/02/2025' is no date of the calendar, read as day, month, year. The row is set aside; repair the cell and drop the file again.",
  ],
  "unknown-unit": [
    { column: "Torque", value: "300 bar", facts: { unit: "bar", expected: "N·m" }, severity: "notice" },
    "run_log.csv, line 14, column Torque: The unit bar in '300 bar' does not turn into N·m. The rest of the row is kept and this cell counts as not written down.",
  ],
  "word-not-known": [
    { column: "Found", value: "lip chewed", facts: { vocabulary: "conditions" }, severity: "notice" },
    "run_log.csv, line 14, column Found: 'lip chewed' has no meaning in the word list yet. The rest of the row is kept and this cell counts as not written down. Add the word to the list and drop the file again.",
  ],
  "not-yes-or-no": [
    { column: "Renewed", value: "half" },
    "run_log.csv, line 14, column Renewed: 'half' is neither yes nor no. The row is set aside; repair the cell and drop the file again.",
  ],
  "below-minimum": [
    { column: "Hours", value: "-3", facts: { minimum: 0 } },
    "run_log.csv, line 14, column Hours: '-3' is below 0. The row is set aside; repair the cell and drop the file again.",
  ],
  "pattern-did-not-match": [
    { column: "Serial", value: "X1", facts: { pattern: "^AD" } },
    "run_log.csv, line 14, column Serial: 'X1' does not follow the pattern of the mapping. The row is set aside; repair the cell and drop the file again.",
  ],
  "repeated-row-differs": [
    { facts: { table: "teardowns", key: '["T1"]', firstLine: 12, field: "done_on" } },
    "run_log.csv, line 14: The same row of teardowns and tests stands on line 12 with another Done on. The row is set aside; repair the line and drop the file again.",
  ],
  "repeated-key": [
    { facts: { table: "runs", key: '["R1"]', firstLine: 3, field: null }, severity: "notice" },
    "run_log.csv, line 14: This row of runs is already on line 3, word for word. It is taken once.",
  ],
  "row-too-long": [
    { value: "extra", facts: { cells: 9, headers: 8 } },
    "run_log.csv, line 14: The line has 9 cells under 8 headers, so 'extra' has no column. The row is set aside; repair the line and drop the file again.",
  ],
  "row-too-short": [
    { facts: { cells: 6, headers: 8 }, severity: "notice" },
    "run_log.csv, line 14: The line has 6 cells under 8 headers; those after the last are read as empty. The line is kept.",
  ],
  "no-such-column": [
    { column: "Hrs", facts: { column: "Hrs" }, severity: "notice" },
    'run_log.csv, line 14, column Hrs: The mapping asks for a column "Hrs" that the sheet does not have. Its field stays empty; correct the mapping if the column has another name.',
  ],
  "link-not-found": [
    {
      column: "Serial",
      value: "AD650-099",
      facts: { table: "tools" },
      severity: "notice",
      origin: { ...origin, sheet: "Runs" },
    },
    "run_log.csv, sheet Runs, line 14, column Serial: 'AD650-099' leads to no row of tools. The row is kept and used by no life until the other one is there.",
  ],
  "date-order-assumed": [
    { column: "Date", facts: { order: "dmy", example: "2025-04-03" }, severity: "notice" },
    "run_log.csv, line 14, column Date: Every date here can be read in more than one order; day, month, year is assumed, so the first is 3 Apr 2025. Confirm or change the order before storing.",
  ],
  "cell-error": [
    { column: "Hours", value: "#DIV/0!", severity: "notice", origin: { ...origin, sheet: "Runs" } },
    "run_log.csv, sheet Runs, line 14, column Hours: The formula failed, and the sheet shows '#DIV/0!'. It is kept as written; repair the formula if the value matters.",
  ],
  "formula-without-value": [
    { column: "Hours", severity: "notice", origin: { ...origin, sheet: "Runs" } },
    "run_log.csv, sheet Runs, line 14, column Hours: The formula was saved without its value. The cell counts as not written down; open the workbook in a spreadsheet program, save it and drop it again.",
  ],
  "tab-hidden": [
    { severity: "notice", origin: { ...origin, sheet: "Old" } },
    "run_log.csv, sheet Old, line 14: The tab Old is hidden in the workbook; it is read like the others. Take the tab out of the workbook if it should not count.",
  ],
  "tab-empty": [
    { severity: "notice", origin: { ...origin, sheet: "Tab 3" } },
    "run_log.csv, sheet Tab 3, line 14: Nothing is written on the tab Tab 3. There is nothing to store of it.",
  ],
};

test.each(Object.entries(cases))("problem %s: place, what is wrong, what to do", (code, [given, words]) => {
  expect(sayProblem(problem(code as ProblemCode, given))).toBe(words);
});

const notices: readonly (readonly [Notice["code"], Notice["facts"], string])[] = [
  ["few-failures", { failures: 1 }, "This rests on 1 failure. The bounds say how little that is; take the lower one."],
  [
    "few-failures",
    { failures: 5, modes: 3 },
    "3 modes rest on fewer than 5 failures each. Read the bounds, not the order.",
  ],
  [
    "tools-differ",
    { serials: 57, p_value: 0.00123 },
    "The 57 serials do not all last alike (p = 0.00123). The bounds take every life as separate and may be too narrow.",
  ],
  [
    "tools-differ",
    { serials: 57, p_value: 0.00123, bounds: "by serial" },
    "The 57 serials do not all last alike (p = 0.00123). The bounds draw whole tools again, so that they hold although tools differ.",
  ],
  [
    "no-failures",
    { lives: 20, longest: 305 },
    "None of the 20 followed failed, the longest for 305 h. That gives a least life, not a life.",
  ],
  [
    "extrapolated",
    { reading: "median", age: 1520, longest: 620 },
    "The age by which half have failed is read at 1,520 h, beyond experience: nothing was followed longer than 620 h.",
  ],
  [
    "run-hours-missing",
    { run: "R7", serial: "AD650-014", high: 96, written: null, hours_kind: null },
    "Run R7 of AD650-014 has no hours written down. By its dates it ran between 0 and 96 h.",
  ],
  [
    "run-hours-missing",
    { run: "R7", serial: "AD650-014", high: 96, written: 41, hours_kind: "drilling" },
    "Run R7 of AD650-014 has 41 h of another kind (drilling). Kinds are never mixed: it counts as a run between 0 and 96 h.",
  ],
  ["run-hours-missing", { count: 212 }, "212 runs without usable hours; only their dates bound them."],
  [
    "mode-not-listed",
    { tool_type: "AD", item: "J1", mode: "cracked", count: 1 },
    "1 finding of cracked on J1 of AD: the list of modes does not have it. Add the mode, or the word for one.",
  ],
  [
    "sizes-pooled",
    { sizes: "4.75, 6.5, 8" },
    "Sizes are taken together: 4 3/4 in, 6 1/2 in and 8 in. Narrow the scope to one size to see them apart.",
  ],
  [
    "left-truncated",
    { late: 31, lives: 412, from_age: null },
    "31 of 412 entered these records in mid-life and count from the age at which they entered.",
  ],
  [
    "linked-modes",
    { item: "main seal", mode: "extrusion", defect: "extrusion", failure: "leak", without_defect: 2 },
    "On main seal, extrusion leads to leak. Both are fitted together, since a leak decides when one looks; a step curve of extrusion alone would mislead and is not drawn. 2 failures came without the defect and are taken as brought by something else.",
  ],
  ["invented-data", {}, "These are invented records of a shop that does not exist."],
];

test.each(notices)("notice %s %j", (code, facts, words) => {
  expect(sayNotice({ code, facts })).toBe(words);
});

test("every notice has a sentence with all of its facts, and one with none", () => {
  for (const [code, names] of Object.entries(noticeFacts) as [Notice["code"], readonly string[]][]) {
    const facts = Object.fromEntries(names.map((name, at) => [name, 7 + at]));
    for (const sentence of [sayNotice({ code, facts }), sayNotice({ code, facts: {} })]) {
      expect(sentence, code).toMatch(/^[A-Z0-9].*\.$|^Stated by the shop: .+$/);
      expect(sentence, code).not.toMatch(/undefined|null|NaN|Infinity|!|\[object/);
    }
  }
});

const errors: readonly AnalysisErrorCode[] = [
  "unsupported-censoring",
  "bad-life",
  "no-lives",
  "bad-setting",
  "restoration-unanswered",
  "tool-not-found",
  "bad-date",
  "bad-mapping",
  "unknown-unit",
  "sheet-too-large",
  "sheet-not-text",
  "sheet-empty",
  "too-many-columns",
  "too-many-lines",
  "cell-too-long",
  "quote-not-closed",
  "workbook-unpacks-too-large",
  "workbook-damaged",
  "workbook-not-readable",
  "too-many-tabs",
  "bad-reference-file",
];

test.each(errors)("error %s says what is wrong and what to do, even without facts", (code) => {
  const sentence = sayError({ code, facts: {} });
  expect(sentence).toMatch(/^[A-Z"].*\.$/);
  expect(sentence).not.toMatch(/undefined|null|NaN|!/);
  expect(sentence.split(". ").length).toBeGreaterThanOrEqual(2);
});

test("errors name the place and the value", () => {
  expect(
    sayError({
      code: "bad-life",
      facts: { row: 3, id: "life 3", column: "entry", value: "70", why: "entry beyond exit" },
    }),
  ).toBe(
    'Life "life 3" does not hold together: the age at which it is followed from is 70, after its life was over. Correct it and bring the lives again.',
  );
  expect(
    sayError({ code: "unsupported-censoring", facts: { method: "product-limit", life: "life 3", kind: "interval" } }),
  ).toBe(
    'The product-limit estimate cannot use life "life 3", which failed somewhere between two inspections. Use the Turnbull estimate for such lives.',
  );
  expect(sayError({ code: "sheet-too-large", facts: { file: "runs.csv", bytes: 41_260_000, limit: 20_000_000 } })).toBe(
    "runs.csv holds 41.3 MB; at most 20 MB can be read at once. Split it and drop the parts together.",
  );
  expect(sayError({ code: "bad-mapping", facts: { table: "runs", field: "hrs", why: "no such field" } })).toBe(
    'The field "hrs" of the table "runs" in the mapping cannot be used: no such field. Correct the mapping and drop the file again.',
  );
});

const cautions: readonly CautionKind[] = [
  "life",
  "torque",
  "seal",
  "interval",
  "dispatch",
  "teardown",
  "pressure test",
  "chemicals",
  "lifting",
];

test.each(cautions)("the caution for %s says first that it is advice and what governs", (kind) => {
  const [first, ...rest] = sayCautions(kind);
  expect(first).toBe(
    "Advice only. The maker's manual, local codes and licensed practice govern; nothing here clears a tool.",
  );
  expect(rest.length).toBeGreaterThan(0);
});
