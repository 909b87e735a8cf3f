// Reference values: R 4.2.2 with survival 3.5.3, closed forms, and printed values; the sources stand in the file.
import { expect, test } from "vitest";
import { readReferenceFile } from "../support/reference/readReferenceFile.ts";
import { recurrenceComparers } from "../support/reference/recurrence.ts";
import { runCases } from "../support/reference/runCases.ts";

const file = readReferenceFile(new URL("./recurrence.json", import.meta.url));

test.each(file.cases.map((one) => [`${one.kind}: ${one.name}`, one] as const))("%s: every value", (_, one) => {
  const outcome = runCases({ ...file, cases: [one] }, recurrenceComparers);
  expect(outcome.outside).toEqual([]);
  expect(outcome.unknownKinds).toEqual([]);
  expect(outcome.compared).toBeGreaterThan(20);
});

test("what is not compared only says how far the reference was from its own second method", () => {
  expect([...runCases(file, recurrenceComparers).notCovered.keys()].sort()).toEqual(["maxAbsScore", "survfitCheck"]);
});
