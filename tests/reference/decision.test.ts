// Reference values: R 4.2.2 closed forms, qchisq, qbeta and pbinom; printed sample sizes from memory, as the file says.
import { expect, test } from "vitest";
import { decisionComparers } from "../support/reference/decision.ts";
import { readReferenceFile } from "../support/reference/readReferenceFile.ts";
import { runCases } from "../support/reference/runCases.ts";

const file = readReferenceFile(new URL("./decision.json", import.meta.url));
const least: Readonly<Record<string, number>> = {
  "age-replacement": 338,
  "conditional-life": 30,
  "fixed-shape": 14,
  "minimal-repair": 13,
  "returns-prediction": 52,
  "success-run": 288,
};

test.each(file.cases.map((one) => [`${one.kind}: ${one.name}`, one] as const))("%s: every value", (_, one) => {
  const outcome = runCases({ ...file, cases: [one] });
  expect(outcome.outside).toEqual([]);
  expect(outcome.unknownKinds).toEqual([]);
  expect(outcome.compared).toBeGreaterThanOrEqual(least[one.kind] ?? 1);
});

test("every kind of the file is compared, and what is not computed is named", () => {
  const outcome = runCases(file, decisionComparers);
  expect([...outcome.notCovered]).toEqual([["standard deviation of a lognormal law", 1]]);
  expect([...outcome.unknownKinds]).toEqual([]);
  expect(outcome.cases).toBe(10);
});

test("a wrong bound is noticed", () => {
  const one = file.cases.find(({ kind }) => kind === "success-run");
  if (!one) throw new Error("no such case");
  const wrong = JSON.parse(JSON.stringify(one.expected).replace("0.870550563296124", "0.8705505")) as unknown;
  expect(runCases({ ...file, cases: [{ ...one, expected: wrong }] }).outside).not.toEqual([]);
});
