// Expected values: R 4.2.2, and printed ones from memory, as the file says; sources of the data stand in the file.
import { expect, test } from "vitest";
import { contingencyComparers } from "../support/reference/contingency.ts";
import { readReferenceFile } from "../support/reference/readReferenceFile.ts";
import { runCases } from "../support/reference/runCases.ts";

const file = readReferenceFile(new URL("./contingency.json", import.meta.url));

test.each(file.cases.map((one) => [`${one.kind}: ${one.name}`, one] as const))("%s: every value", (_, one) => {
  const outcome = runCases({ ...file, cases: [one] }, contingencyComparers);
  expect(outcome.outside).toEqual([]);
  expect(outcome.unknownKinds).toEqual([]);
  expect(outcome.compared).toBeGreaterThanOrEqual(4);
});

test("what is not compared is what another program prints after stopping its root finder early", () => {
  expect([...runCases(file, contingencyComparers).notCovered]).toEqual([["fisherTestPrinted", 12]]);
});
