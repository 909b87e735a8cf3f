// Reference values: R 4.2.2 with survival 3.5.3, and printed values; the sources stand in the file.
import { expect, test } from "vitest";
import { nonparametricComparers } from "../support/reference/nonparametric.ts";
import { readReferenceFile } from "../support/reference/readReferenceFile.ts";
import { runCases } from "../support/reference/runCases.ts";

const file = readReferenceFile(new URL("./nonparametric.json", import.meta.url));

test.each(file.cases.map((one) => [`${one.kind}: ${one.name}`, one] as const))("%s: every value", (_, one) => {
  const outcome = runCases({ ...file, cases: [one] }, nonparametricComparers);
  expect(outcome.outside).toEqual([]);
  expect(outcome.unknownKinds).toEqual([]);
  expect(outcome.compared).toBeGreaterThan(5);
});

test("what is not compared only says how far other programs were apart", () => {
  expect([...runCases(file, nonparametricComparers).notCovered.keys()].sort()).toEqual([
    "maxAbsDiffFromSurvfit",
    "maxAbsDiffOfTheTwoSe",
  ]);
});
