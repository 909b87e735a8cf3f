// Reference values: R 4.2.2 qbeta and lm, kept in rank-regression.json; printed median ranks from memory, as the file says.
import { expect, test } from "vitest";
import { readReferenceFile } from "../support/reference/readReferenceFile.ts";
import { runCases } from "../support/reference/runCases.ts";

const file = readReferenceFile(new URL("./rank-regression.json", import.meta.url));

test.each(file.cases.map((one) => [`${one.kind}: ${one.name}`, one] as const))("%s: every value", (_, one) => {
  const outcome = runCases({ ...file, cases: [one] });
  expect(outcome.outside).toEqual([]);
  expect(outcome.unknownKinds).toEqual([]);
  expect([...outcome.notCovered]).toEqual([]);
  expect(outcome.compared).toBeGreaterThanOrEqual(one.kind === "ranks" ? 4 : 80);
});

test("a wrong shape is noticed", () => {
  const one = file.cases.find(({ name }) => name === "ball bearings");
  if (!one) throw new Error("no such case");
  const wrong = JSON.parse(JSON.stringify(one.expected).replace("2.25501242273733", "2.255013")) as unknown;
  expect(runCases({ ...file, cases: [{ ...one, expected: wrong }] }).outside).not.toEqual([]);
});
